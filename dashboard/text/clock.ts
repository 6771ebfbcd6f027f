// Writes times as the people on the site read their clock.
import { localFields } from "../units/zone-time.ts";

/** Hours on the face of the clock. */
export type Hours = 12 | 24;

export interface Clock {
  readonly hours: Hours;
  readonly timezone: string;
  /** "13:40" or "1:40 pm". */
  time(atMs: number): string;
  /** The time, with the day when the time alone could be read as another day's. */
  when(atMs: number, nowMs: number): string;
  /** "Tue 3 Feb". */
  day(atMs: number): string;
  /** Tick of an axis: hour only, or the day at midnight. */
  tick(atMs: number): string;
}

export interface DayNames {
  readonly weekdays: readonly string[];
  readonly months: readonly string[];
}

const HALF_DAY_MS = 12 * 3_600_000;
const WEEK_MS = 6 * 86_400_000;

export function clockOf(timezone: string, names: DayNames, hours: Hours): Clock {
  const time = (atMs: number) => {
    const { hour, minute } = localFields(atMs, timezone);
    const minutes = String(minute).padStart(2, "0");
    return hours === 12
      ? `${hour % 12 || 12}:${minutes}\u00a0${hour < 12 ? "am" : "pm"}`
      : `${String(hour).padStart(2, "0")}:${minutes}`;
  };
  const date = (atMs: number) => {
    const { day, month } = localFields(atMs, timezone);
    return `${day} ${names.months[month - 1] ?? ""}`;
  };
  const weekday = (atMs: number) => names.weekdays[localFields(atMs, timezone).weekday] ?? "";
  return {
    hours,
    timezone,
    time,
    when(atMs, nowMs) {
      const at = localFields(atMs, timezone);
      const now = localFields(nowMs, timezone);
      const off = Math.abs(atMs - nowMs);
      if ((at.day === now.day && off < 2 * HALF_DAY_MS) || off < HALF_DAY_MS) return time(atMs);
      return off < WEEK_MS ? `${weekday(atMs)}\u00a0${time(atMs)}` : `${date(atMs)}\u00a0${time(atMs)}`;
    },
    day: (atMs) => `${weekday(atMs)} ${date(atMs)}`,
    tick(atMs) {
      const { hour, day } = localFields(atMs, timezone);
      if (hour === 0) return `${weekday(atMs)} ${day}`;
      return hours === 12 ? `${hour % 12 || 12} ${hour < 12 ? "am" : "pm"}` : `${String(hour).padStart(2, "0")}:00`;
    },
  };
}
