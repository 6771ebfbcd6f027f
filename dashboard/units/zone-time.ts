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

/** Clocks are changed on quarters of an hour: what one leads UTC by holds for a quarter, and is looked up once. */
const QUARTER_MS = 900_000;
const MOST_KNOWN = 2000;
const known = new Map<string, number>();

/** What the wall clock of `timezone` leads UTC by at this moment, ms. */
export function offsetMs(atMs: number, timezone: string): number {
  const quarterMs = Math.floor(atMs / QUARTER_MS) * QUARTER_MS;
  const key = timezone + quarterMs;
  let offset = known.get(key);
  if (offset === undefined) {
    // In that language: "2/3/2026, 06:05:00".
    const [month = 1, day = 1, year = 0, hour = 0, minute = 0, second = 0] =
      formatFor(timezone).format(quarterMs).match(/\d+/g)?.map(Number) ?? [];
    offset = Date.UTC(year, month - 1, day, hour, minute, second) - quarterMs;
    if (known.size > MOST_KNOWN) known.clear();
    known.set(key, offset);
  }
  return offset;
}

/** The wall clock's fields, read as if they were UTC. */
export const localDate = (atMs: number, timezone: string) => new Date(atMs + offsetMs(atMs, timezone));

export function localFields(atMs: number, timezone: string): LocalFields {
  const local = localDate(atMs, timezone);
  return {
    year: local.getUTCFullYear(),
    month: local.getUTCMonth() + 1,
    day: local.getUTCDate(),
    hour: local.getUTCHours(),
    minute: local.getUTCMinutes(),
    weekday: local.getUTCDay(),
  };
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
