// What an office knows of many sites: what each site last said, and how long ago.
import Type from "typebox";
import { AlarmSchema } from "#contract/alarm.ts";
import { CallSchema } from "#contract/call.ts";
import { Id, IsoTime, Name, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

/**
 * `call` null: none was heard, or what was heard cannot be read (`unread`). Of its rules only the limiting one is told.
 * `behind`: the site has told of another call than the one that was heard.
 */
export const OfficeZoneSchema = Type.Object(
  { id: Id, name: Name, call: nullable(CallSchema), unread: Type.Boolean(), behind: Type.Boolean() },
  closed,
);

/**
 * `aliveAt`: up to when the server of the site surely lived, by the stricter of its clock and the office's; null when
 * it never said so. Old once `oldAfterS` seconds have passed since.
 */
export const OfficeSiteSchema = Type.Object(
  {
    site: Id,
    name: Name,
    timezone: Name,
    publicUrl: nullable(Type.String()),
    aliveAt: NullableTime,
    oldAfterS: Type.Number(),
    zones: Type.Array(OfficeZoneSchema),
    /** Those that were not over when the site last spoke. */
    alarms: Type.Array(AlarmSchema),
    alarmCount: Type.Integer(),
  },
  closed,
);
export const OfficeSchema = Type.Object(
  {
    at: IsoTime,
    /** Why the office may not hear now; null while its broker answers. */
    deaf: nullable(Type.String()),
    sites: Type.Array(OfficeSiteSchema),
  },
  closed,
);
/** null: the server is no office. */
export const OfficeAnswerSchema = Type.Object({ office: nullable(OfficeSchema) }, closed);
export type OfficeZoneBody = Readonly<Type.Static<typeof OfficeZoneSchema>>;
export type OfficeSiteBody = Readonly<Type.Static<typeof OfficeSiteSchema>>;
export type OfficeAnswerBody = Readonly<Type.Static<typeof OfficeAnswerSchema>>;
export type OfficeBody = Readonly<Type.Static<typeof OfficeSchema>>;

/** Events of the stream of an office: all of it, one site whole after it said something, a site that is gone, the time. */
export const OFFICE_EVENTS = {
  snapshot: OfficeSchema,
  site: OfficeSiteSchema,
  gone: Type.Object({ site: Id }, closed),
  beat: Type.Object({ at: IsoTime, deaf: nullable(Type.String()) }, closed),
} as const;
