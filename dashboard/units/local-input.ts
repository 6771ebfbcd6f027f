// Times as a form holds them, on the wall clock of a site.
import { localDate, offsetMs } from "./zone-time.ts";

/** `2026-02-03T06:05` for an `<input type="datetime-local">`. */
export function localInput(atMs: number, timezone: string): string {
  return localDate(atMs, timezone).toISOString().slice(0, 16);
}

/**
 * Epoch ms of a local `2026-02-03T06:05`; NaN if it is none. A time that the clock skips in spring is taken as if the
 * clock had not been changed yet; one that it shows twice in autumn is the first.
 */
export function msFromLocalInput(text: string, timezone: string): number {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/.test(text)) return Number.NaN;
  const asUtc = Date.parse(`${text.slice(0, 16)}:00Z`);
  if (Number.isNaN(asUtc)) return Number.NaN;
  const before = asUtc - offsetMs(asUtc - 86_400_000, timezone);
  if (localInput(before, timezone) === text.slice(0, 16)) return before;
  const after = asUtc - offsetMs(asUtc + 86_400_000, timezone);
  return localInput(after, timezone) === text.slice(0, 16) ? after : before;
}
