// The weather of a whole year at a station: unbroken runs of hours, evenings in them, and weather from before a run began.
import { hourlyWeather, type Weather, type WeatherHour } from "../building/weather.ts";
import { afternoonMs } from "../night/night.ts";
import type { Station } from "../night/stations.ts";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** Reports further apart belong to different runs: a typical year joins months of different years. */
const RUN_GAP_MS = 12 * HOUR_MS;
/** An evening needs this much of its run before it and after it: readings and the days that truth looks ahead. */
const BEFORE_MS = 4.5 * DAY_MS;
const AFTER_MS = 4.5 * DAY_MS;
/** Before its first hour a run repeats this many of its own first days, so that a building can settle. */
const REPEATED_MS = 5 * DAY_MS;

export type Run = readonly WeatherHour[];

/** Hours split where a station was silent for more than half a day; runs too short for an evening are left out. */
export function runsOf(hours: readonly WeatherHour[]): readonly Run[] {
  const runs: WeatherHour[][] = [];
  for (const hour of hours) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    if (run === undefined || last === undefined || hour.atMs - last.atMs > RUN_GAP_MS) runs.push([hour]);
    else run.push(hour);
  }
  return runs.filter((run) => roomMs(run) > DAY_MS);
}

function roomMs(run: Run): number {
  return (run.at(-1)?.atMs ?? 0) - (run[0]?.atMs ?? 0) - BEFORE_MS - AFTER_MS;
}

/** 14:00 local of the day at `share` (0 to 1) of all the days on which an evening fits, with its run. */
export function eveningAt(runs: readonly Run[], station: Station, share: number): { run: Run; fourteenMs: number } {
  let leftMs = share * runs.reduce((sum, run) => sum + roomMs(run), 0);
  for (const [index, run] of runs.entries()) {
    const room = roomMs(run);
    if (leftMs >= room && index < runs.length - 1) {
      leftMs -= room;
      continue;
    }
    const atMs = (run[0]?.atMs ?? 0) + BEFORE_MS + Math.min(leftMs, room);
    return { run, fourteenMs: afternoonMs(station, new Date(atMs).toISOString().slice(0, 10)) - 2 * HOUR_MS };
  }
  throw new RangeError(`${station.id} has no run of hours that an evening fits into`);
}

/** The weather of a run; earlier than its first hour its first days are repeated. */
export function weatherOf(run: Run): Weather {
  const played = hourlyWeather(run);
  const firstMs = run[0]?.atMs ?? 0;
  return (atMs) => {
    if (atMs >= firstMs) return played(atMs);
    return played(atMs + Math.ceil((firstMs - atMs) / REPEATED_MS) * REPEATED_MS);
  };
}

/** Mean air temperature outdoors over a span, °C, sampled by the hour. */
export function meanOutdoorsC(weather: Weather, fromMs: number, toMs: number): number {
  let sum = 0;
  let count = 0;
  for (let atMs = fromMs; atMs <= toMs; atMs += HOUR_MS) {
    sum += weather(atMs).airC;
    count++;
  }
  return sum / count;
}
