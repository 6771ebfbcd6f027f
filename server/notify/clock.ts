// Times in messages: the wall of the site, with the day where it is not today's.
import type { Language } from "./ports.ts";
import { wallClock } from "./quiet.ts";

/** "03:10", or "Thu 03:10" on another day than that of `nowMs`. */
export function clockFor(timezone: string, language: Language, nowMs: number): (atMs: number) => string {
  const wall = wallClock(timezone);
  const today = wall(nowMs).day;
  const weekday = new Intl.DateTimeFormat(language, { timeZone: timezone, weekday: "short" });
  return (atMs) => {
    const { day, minute } = wall(atMs);
    const two = (value: number) => String(value).padStart(2, "0");
    const time = `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
    return day === today ? time : `${weekday.format(atMs)} ${time}`;
  };
}
