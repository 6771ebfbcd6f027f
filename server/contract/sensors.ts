// What the sensors page reads: every node with what it is trusted for, what it lacks, and what was refused of it.
import Type from "typebox";
import { KnockStateSchema } from "#contract/knock.ts";
import { Id, IsoTime, NullableNumber, NullableTime } from "#contract/primitives.ts";
import { ZoneOpinionsSchema } from "#contract/second-opinion.ts";
import { NodeSchema } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;

/** A doubt about a probe: what gave it away, and what it was held against. */
export const ProbeDoubtSchema = Type.Object(
  {
    probe: Type.String(),
    kind: Type.String(),
    since: IsoTime,
    measured: Type.Number(),
    limit: Type.Number(),
  },
  closed,
);

/** `kind`: what to do about it before it fails. `inDays`: until then, as it has gone lately; null = now, or not told. */
export const NodeWarningSchema = Type.Object(
  {
    kind: Type.Enum([
      "battery-low",
      "battery-falls",
      "battery-cold",
      "radio-weak",
      "radio-falls",
      "rounds-missing",
      "silent",
    ]),
    value: Type.Number(),
    unit: Type.Enum(["%", "V", "dBm", "dB", "h"]),
    inDays: NullableNumber,
  },
  closed,
);
export type NodeWarningBody = Type.Static<typeof NodeWarningSchema>;

const Days = Type.Array(NullableNumber, { description: "mean of each of the last 14 days, oldest first" });

export const SensorSchema = Type.Object(
  {
    node: NodeSchema,
    presence: Type.Enum(["online", "offline", "unknown"]),
    lastHeard: NullableTime,
    quantities: Type.Array(
      Type.Object({ quantity: Type.String(), value: Type.Number(), at: IsoTime, retired: Type.Boolean() }, closed),
    ),
    batteryPct: NullableNumber,
    batteryV: NullableNumber,
    rssiDbm: NullableNumber,
    batteryDays: Days,
    rssiDays: Days,
    /** Share of the rounds of the last 24 h that were heard, 0 to 1; null before the first day. */
    heardShare: NullableNumber,
    warnings: Type.Array(NodeWarningSchema),
    doubts: Type.Array(ProbeDoubtSchema),
    /** Since when it has a password of its own; null = it has none. */
    passwordSince: NullableTime,
    retiredAt: NullableTime,
    replacedBy: Type.Union([Id, Type.Null()]),
  },
  closed,
);
export type SensorBody = Type.Static<typeof SensorSchema>;

export const QuarantineLineSchema = Type.Object(
  {
    node: Type.String(),
    reason: Type.String(),
    field: Type.String(),
    excerpt: Type.String(),
    count: Type.Integer(),
    firstAt: IsoTime,
    lastAt: IsoTime,
  },
  closed,
);

export const SensorsSchema = Type.Object(
  {
    at: IsoTime,
    sensors: Type.Array(SensorSchema),
    zones: Type.Array(ZoneOpinionsSchema),
    knocks: Type.Array(KnockStateSchema),
    quarantine: Type.Array(QuarantineLineSchema),
    /** Where nodes reach the broker; null when it is not open. */
    broker: Type.Union([Type.String(), Type.Null()]),
  },
  closed,
);
export type SensorsBody = Type.Static<typeof SensorsSchema>;
