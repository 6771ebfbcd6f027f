// Quiet hours and times of day by the clock on the wall of the site.

const MINUTE_MS = 60_000;
const DAY_MIN = 1440;

export interface Quiet {
  /** HH:MM. */
  readonly from: string;
  readonly to: string;
}

/** The wall of a site at a moment. */
export interface WallTime {
  /** YYYY-MM-DD. */
  readonly day: string;
  readonly minute: number;
}

const formats = (timezone: string) =>
  new Intl.DateTimeFormat("en-CA", {
    timeZone: timezone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
  });

export function wallClock(timezone: string): (atMs: number) => WallTime {
  const format = formats(timezone);
  return (atMs) => {
    const part = Object.fromEntries(format.formatToParts(atMs).map(({ type, value }) => [type, value]));
    return {
      day: `${part["year"]}-${part["month"]}-${part["day"]}`,
      minute: Number(part["hour"]) * 60 + Number(part["minute"]),
    };
  };
}

export function minuteOf(clock: string): number {
  return Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));
}

function isWithin({ from, to }: Quiet, minute: number): boolean {
  const [begin, end] = [minuteOf(from), minuteOf(to)];
  return begin <= end ? minute >= begin && minute < end : minute >= begin || minute < end;
}

/**
 * When the quiet hours end in which this moment lies, epoch ms; null outside of them. Over midnight where `to` is earlier
 * than `from`; none where both are the same. An end that the clock leaves out in spring comes within the hour after.
 */
export function quietUntil(quiet: Quiet | null, timezone: string, nowMs: number): number | null {
  if (quiet === null) return null;
  const wall = wallClock(timezone);
  const { minute } = wall(nowMs);
  if (!isWithin(quiet, minute)) return null;
  const end = minuteOf(quiet.to);
  const nowMinuteMs = Math.floor(nowMs / MINUTE_MS) * MINUTE_MS;
  const plain = nowMinuteMs + ((end - minute + DAY_MIN) % DAY_MIN) * MINUTE_MS;
  // The clock may have been set in between.
  const off = end - wall(plain).minute;
  const shift = off > DAY_MIN / 2 ? off - DAY_MIN : off < -DAY_MIN / 2 ? off + DAY_MIN : off;
  const ends = [plain + shift * MINUTE_MS, plain];
  return ends.find((atMs) => atMs > nowMs && !isWithin(quiet, wall(atMs).minute)) ?? Math.max(...ends);
}
