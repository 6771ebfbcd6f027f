// Where an evening, a night and a morning begin and end by the site's clock. Pure.
import { localInput, msFromLocalInput } from "../../units/local-input.ts";

const MORNING_H = 6;
const EVENING_H = 17;
const DAY_MS = 86_400_000;

const atHour = (dayMs: number, hour: number, timezone: string) =>
  msFromLocalInput(`${localInput(dayMs, timezone).slice(0, 10)}T${String(hour).padStart(2, "0")}:00`, timezone);

/** The next six o'clock in the morning, epoch ms. */
export function morningAfter(nowMs: number, timezone: string): number {
  const today = atHour(nowMs, MORNING_H, timezone);
  return today > nowMs ? today : atHour(nowMs + DAY_MS, MORNING_H, timezone);
}

/** The last five o'clock in the afternoon, epoch ms. */
export function eveningBefore(nowMs: number, timezone: string): number {
  const today = atHour(nowMs, EVENING_H, timezone);
  return today <= nowMs ? today : atHour(nowMs - DAY_MS, EVENING_H, timezone);
}
