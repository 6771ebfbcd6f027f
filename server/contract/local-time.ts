// Local times without an offset, of which somebody says in which zone they are meant.

const LOCAL = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:\.\d{1,9})?)?$/;
const DAY_MS = 86_400_000;

/** The same moment as a clock on the wall of the zone shows it, read as if it were UTC. */
function wallOf(format: Intl.DateTimeFormat, atMs: number): number {
  const parts = Object.fromEntries(format.formatToParts(atMs).map(({ type, value }) => [type, Number(value)]));
  const { year = 0, month = 1, day = 1, hour = 0, minute = 0, second = 0 } = parts;
  return Date.UTC(year, month - 1, day, hour, minute, second);
}

/**
 * A reader of the local times of one IANA zone. It gives every moment at which the clock on the wall shows that time, epoch
 * ms: usually one, none in the hour that is left out in spring, two in the hour that comes twice in autumn; null when
 * the text is no local time or names a day that does not exist.
 */
export function localReader(zone: string): (text: string) => readonly number[] | null {
  const format = new Intl.DateTimeFormat("en-US", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  });
  return (text) => {
    const found = LOCAL.exec(text);
    if (found === null) return null;
    const [year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0] = found
      .slice(1)
      .map((part) => Number(part ?? 0));
    const wallMs = Date.UTC(year, month - 1, day, hour, minute, second);
    const same = new Date(wallMs).toISOString().slice(0, 19);
    const typed = `${text.slice(0, 10)}T${text.slice(11, 16)}:${found[6] ?? "00"}`;
    if (same !== typed) return null;
    // An offset that holds within a day of it is the only one that can hold at it.
    const offsetsMs = [wallMs - DAY_MS, wallMs + DAY_MS].map((aroundMs) => wallOf(format, aroundMs) - aroundMs);
    const moments = offsetsMs.map((offsetMs) => wallMs - offsetMs).filter((atMs) => wallOf(format, atMs) === wallMs);
    return [...new Set(moments)].sort((a, b) => a - b);
  };
}
