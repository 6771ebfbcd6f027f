// The state of the server itself.
import Type from "typebox";
import { IsoTime, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
export const PartHealthSchema = Type.Object(
  { state: Type.Enum(["up", "degraded", "down"]), detail: Type.Union([Type.String(), Type.Null()]) },
  closed,
);
export const HealthSchema = Type.Object(
  {
    state: Type.Enum(["up", "degraded", "down"]),
    startId: Type.String(),
    startedAt: IsoTime,
    at: IsoTime,
    lastMessageAt: NullableTime,
    parts: Type.Record(Type.String(), PartHealthSchema),
    counters: Type.Record(Type.String(), Type.Number()),
  },
  closed,
);
export type HealthBody = Type.Static<typeof HealthSchema>;
export type PartHealth = Type.Static<typeof PartHealthSchema>;
