// The site's clock on paper: every time with the date and the offset that held then, so that nobody has to guess.

export interface SiteClock {
  readonly timezone: string;
  /** "2026-02-03 06:40 -06:00". */
  stamp(atMs: number): string;
  /** "2026-02-03 08:00 to 10:30 -06:00": what both ends share is said once. */
  span(fromMs: number, toMs: number, to: string): string;
  /** "06:40". */
  time(atMs: number): string;
  /** "2026-02-03". */
  day(atMs: number): string;
  /** "-06:00". */
  offset(atMs: number): string;
  /** Whole local hours divisible by `stepH`, in order. */
  hours(fromMs: number, toMs: number, stepH: number): readonly { readonly atMs: number; readonly hour: number }[];
}

const QUARTER_MS = 900_000;

export function siteClock(timezone: string): SiteClock {
  const format = new Intl.DateTimeFormat("en-US", {
    timeZone: timezone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  });
  /** The wall of the site read as if it were UTC. */
  const wall = (atMs: number): string => {
    const part = Object.fromEntries(format.formatToParts(atMs).map(({ type, value }) => [type, value]));
    return `${part["year"]}-${part["month"]}-${part["day"]}T${part["hour"]}:${part["minute"]}:${part["second"]}Z`;
  };
  const offset = (atMs: number): string => {
    const minutes = Math.round((Date.parse(wall(atMs)) - Math.floor(atMs / 1000) * 1000) / 60_000);
    const size = Math.abs(minutes);
    const two = (value: number) => String(value).padStart(2, "0");
    return `${minutes < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
  };
  const span = (fromMs: number, toMs: number, to: string): string => {
    const [from, until] = [wall(fromMs), wall(toMs)].map((text) => text.slice(0, 16).replace("T", " ")) as [
      string,
      string,
    ];
    if (offset(fromMs) !== offset(toMs)) return `${from} ${offset(fromMs)} ${to} ${until} ${offset(toMs)}`;
    return `${from} ${to} ${from.slice(0, 10) === until.slice(0, 10) ? until.slice(11) : until} ${offset(toMs)}`;
  };
  return {
    timezone,
    span,
    stamp: (atMs) => `${wall(atMs).slice(0, 16).replace("T", " ")} ${offset(atMs)}`,
    time: (atMs) => wall(atMs).slice(11, 16),
    day: (atMs) => wall(atMs).slice(0, 10),
    offset,
    hours(fromMs, toMs, stepH) {
      const found: { atMs: number; hour: number }[] = [];
      for (let atMs = Math.ceil(fromMs / QUARTER_MS) * QUARTER_MS; atMs <= toMs; atMs += QUARTER_MS) {
        const local = wall(atMs);
        const hour = Number(local.slice(11, 13));
        if (local.slice(14, 16) === "00" && hour % stepH === 0) found.push({ atMs, hour });
      }
      return found;
    },
  };
}
