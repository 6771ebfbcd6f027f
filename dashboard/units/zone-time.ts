// Wall clock of a site: epoch ms to local fields and back, by the runtime's own time zone data.

export interface LocalFields {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  /** 0 = Sunday. */
  readonly weekday: number;
}

const formats = new Map<string, Intl.DateTimeFormat>();

function formatFor(timezone: string): Intl.DateTimeFormat {
  let format = formats.get(timezone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat("en-US", {
      timeZone: timezone,
      hourCycle: "h23",
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
      second: "numeric",
    });
    formats.set(timezone, format);
  }
  return format;
}

function utcOfLocal(atMs: number, timezone: string): number {
  const at: Record<string, number> = {};
  for (const part of formatFor(timezone).formatToParts(atMs)) at[part.type] = Number(part.value);
  return Date.UTC(
    at["year"] ?? 0,
    (at["month"] ?? 1) - 1,
    at["day"] ?? 1,
    at["hour"] ?? 0,
    at["minute"] ?? 0,
    at["second"] ?? 0,
  );
}

/** What the wall clock of `timezone` leads UTC by at this moment, ms. */
export function offsetMs(atMs: number, timezone: string): number {
  return utcOfLocal(atMs, timezone) - Math.floor(atMs / 1000) * 1000;
}

export function localFields(atMs: number, timezone: string): LocalFields {
  const local = new Date(utcOfLocal(atMs, timezone));
  return {
    year: local.getUTCFullYear(),
    month: local.getUTCMonth() + 1,
    day: local.getUTCDate(),
    hour: local.getUTCHours(),
    minute: local.getUTCMinutes(),
    weekday: local.getUTCDay(),
  };
}

/** `2026-02-03T06:05` for an `<input type="datetime-local">`. */
export function localInput(atMs: number, timezone: string): string {
  return new Date(utcOfLocal(atMs, timezone)).toISOString().slice(0, 16);
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

/** The whole local hours divisible by `stepH` between two moments: where an axis puts its ticks. */
export function localHours(fromMs: number, toMs: number, stepH: number, timezone: string): number[] {
  const ticks: number[] = [];
  const hourMs = 3_600_000;
  for (let at = Math.ceil(fromMs / (hourMs / 4)) * (hourMs / 4); at <= toMs; at += hourMs / 4) {
    const local = localFields(at, timezone);
    if (local.minute === 0 && local.hour % stepH === 0) ticks.push(at);
  }
  return ticks;
}
