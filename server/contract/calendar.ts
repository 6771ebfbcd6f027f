// Calendars of a site (RFC 5545): secret addresses that a person's own calendar program asks.
import Type from "typebox";
import { Id, IsoTime, Name, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;

/** `label`: the phone or program that will ask. */
export const CalendarWishSchema = Type.Object({ label: Name, language: Type.Enum(["en", "es"]) }, closed);
export type CalendarWish = Type.Static<typeof CalendarWishSchema>;

export const CalendarSchema = Type.Object(
  {
    id: Id,
    site: Id,
    label: Name,
    language: Type.Enum(["en", "es"]),
    madeAt: IsoTime,
    /** When a program last asked it. */
    seenAt: NullableTime,
  },
  closed,
);
export type CalendarBody = Type.Static<typeof CalendarSchema>;

/** `path` holds the secret and is told this once; only its SHA-256 is kept. */
export const CalendarMadeSchema = Type.Object({ ...CalendarSchema.properties, path: Type.String() }, closed);
export type CalendarMadeBody = Type.Static<typeof CalendarMadeSchema>;
