// What a site says of itself, retained: its name, its zones, what stands there, and that its server lives.
import Type from "typebox";
import { AlarmSchema } from "#contract/alarm.ts";
import { CallWordSchema } from "#contract/call.ts";
import { Id, IsoTime, Name, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

/** Alarms that one message carries at most; `alarmCount` says how many there are. */
export const MOST_ALARMS_ABOUT = 50;

/** `at`: when it was said, by the clock of the site; it is said anew every `everyS` seconds. */
export const AboutSchema = Type.Object(
  {
    site: Id,
    name: Name,
    timezone: Name,
    at: IsoTime,
    everyS: Type.Number({ exclusiveMinimum: 0, maximum: 3600 }),
    /** Where its own dashboard is reached; null when that is not known. */
    publicUrl: nullable(Type.String({ pattern: "^https?://[^\\s/@?#]+$", maxLength: 300 })),
    /** In the order of the site. `callAt`: when its call was last told; null before the first one. */
    zones: Type.Array(
      Type.Object({ id: Id, name: Name, call: nullable(CallWordSchema), callAt: NullableTime }, closed),
    ),
    /** Those that are not over, without their history. */
    alarms: Type.Array(AlarmSchema, { maxItems: MOST_ALARMS_ABOUT }),
    alarmCount: Type.Integer({ minimum: 0 }),
  },
  closed,
);
export type AboutBody = Readonly<Type.Static<typeof AboutSchema>>;
