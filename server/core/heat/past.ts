// The last two days of a zone as the heat balance needs them: air, slab, outdoors and what the heaters gave.
import type { BuildingPast } from "#core/heat/measured.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import { upperIndex } from "#core/zone/heard.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import type { ZoneState } from "#core/zone/state.ts";

const STEP_MS = 10 * 60_000;
const PAST_STEPS = 288;
/** A thermostat this near to its target lets the heater pause: its power is then not known. */
const NEAR_TARGET_K = 1;
/** Hours of a feed or readings of an outdoor node stand for this long. */
const OUTDOOR_HOLD_MS = 2 * 3_600_000;

type Heating = Extract<JournalEntry, { did: "heating" }>;

/** What the heaters gave by the journal, kW: 0 = logged off, NaN = nobody said, or the thermostat was near its target. */
export function loggedKW(heating: ZoneRecord["heating"], atMs: number, airC: number): number {
  let last: Heating | null = null;
  for (const entry of heating) {
    const fromMs = entry.fromMs ?? entry.atMs;
    if (fromMs <= atMs && (last === null || fromMs >= (last.fromMs ?? last.atMs))) last = entry;
  }
  if (last === null) return Number.NaN;
  if (!last.on || (last.toMs ?? Number.POSITIVE_INFINITY) <= atMs) return 0;
  if (last.targetC !== undefined && !(airC < last.targetC - NEAR_TARGET_K)) return Number.NaN;
  return last.kW ?? Number.NaN;
}

/** Coldest outdoor air said by nodes, else by the fetched feed; NaN where neither spoke lately. */
function outdoorAt(state: ZoneState): (atMs: number) => number {
  const { log, moment } = state;
  const outdoors = new Set(log.nodes.filter((node) => node.zone === null).map((node) => node.id));
  const series = log.series.filter((item) => item.quantity === "air" && outdoors.has(item.node));
  const hours = log.feeds
    .filter((fetch) => fetch.fetchedMs <= moment.heardByMs)
    .flatMap((fetch) => fetch.hours)
    .sort((a, b) => a.atMs - b.atMs);
  const hoursMs = hours.map((hour) => hour.atMs);
  const lastOf = (times: readonly number[], values: (index: number) => number, atMs: number) => {
    const index = upperIndex(times, atMs) - 1;
    return index >= 0 && atMs - (times[index] as number) <= OUTDOOR_HOLD_MS ? values(index) : Number.NaN;
  };
  return (atMs) => {
    let coldest = Number.NaN;
    for (const { atMs: times, values, heardMs } of series) {
      const value = lastOf(
        times,
        (index) => ((heardMs[index] as number) <= moment.heardByMs ? (values[index] as number) : Number.NaN),
        atMs,
      );
      if (!Number.isNaN(value)) coldest = Number.isNaN(coldest) ? value : Math.min(coldest, value);
    }
    return Number.isNaN(coldest) ? lastOf(hoursMs, (index) => hours[index]?.airC ?? Number.NaN, atMs) : coldest;
  };
}

/** The two days up to now on steps of ten minutes. */
export function buildingPastOf(state: ZoneState): BuildingPast {
  const { line, moment, record } = state;
  const column = () => new Float64Array(PAST_STEPS + 1).fill(Number.NaN);
  const past = { airC: column(), slabC: column(), outdoorC: column(), heatKW: column() };
  const outdoorC = outdoorAt(state);
  let after = 0;
  for (let step = 0; step <= PAST_STEPS; step++) {
    const atMs = moment.nowMs - (PAST_STEPS - step) * STEP_MS;
    while (after < line.readings && (line.atMs[after] as number) <= atMs) after++;
    const heard = after - 1;
    if (heard < 0 || atMs - (line.atMs[heard] as number) > HOLD_MS) continue;
    past.airC[step] = line.airMinC[heard] as number;
    past.slabC[step] = line.slabColdC[heard] as number;
    past.outdoorC[step] = outdoorC(atMs);
    past.heatKW[step] = loggedKW(record.heating, atMs, past.airC[step] as number);
  }
  return { stepMs: STEP_MS, ...past };
}
