// The small schemas that the others are built from, and the conversion between ISO 8601 on the wire and ms inside.
import Type from "typebox";

const DATE_TIME = "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}(:\\d{2}(\\.\\d{1,9})?)?(Z|[+-]\\d{2}:\\d{2})$";

/** ISO 8601 date and time with its offset; a time without one is refused, since nobody could place it. */
export const IsoTime = Type.String({ pattern: DATE_TIME, description: "ISO 8601 date and time with offset" });
/** Ids of sites, zones, nodes and sheets: they stand in topics, names and addresses. */
export const Id = Type.String({
  pattern: "^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$",
  description: "letters, digits, - and _, at most 64",
});
/** A probe: `node/quantity`. */
export const ProbeName = Type.String({ pattern: "^[A-Za-z0-9][A-Za-z0-9_-]{0,63}/[a-z]+(\\.[0-9]{1,3})?$" });
export const Text = Type.String({ maxLength: 2000 });
export const Name = Type.String({ minLength: 1, maxLength: 200 });
export const NullableNumber = Type.Union([Type.Number(), Type.Null()]);
export const NullableTime = Type.Union([IsoTime, Type.Null()]);

const DATE_TIME_FORM = new RegExp(DATE_TIME);

/** ISO 8601 with offset to epoch ms; NaN if it is not one or names a day that does not exist. */
export function msFromIso(iso: string): number {
  if (!DATE_TIME_FORM.test(iso)) return Number.NaN;
  const ms = Date.parse(iso);
  if (Number.isNaN(ms)) return ms;
  // Date.parse rolls 31 February over to March in some engines; the day that comes out must be the day that went in.
  const offset = /([+-])(\d{2}):(\d{2})$/.exec(iso);
  const shiftMs = offset ? (offset[1] === "-" ? -1 : 1) * (Number(offset[2]) * 60 + Number(offset[3])) * 60_000 : 0;
  return new Date(ms + shiftMs).toISOString().slice(0, 10) === iso.slice(0, 10) ? ms : Number.NaN;
}

export function isoFromMs(atMs: number): string {
  return new Date(atMs).toISOString().replace(".000Z", "Z");
}

export function isoOrNull(atMs: number | null): string | null {
  return atMs === null ? null : isoFromMs(atMs);
}
