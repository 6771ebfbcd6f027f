// The last two days of a zone as the heat balance needs them: air, slab, outdoors and what the heaters gave.
import type { BuildingPast } from "#core/heat/measured.ts";
import { believedFeed } from "#core/outlook/believed-feed.ts";
import { outdoorAirOf, outdoorPastOf } from "#core/outlook/outdoor-past.ts";
import { PAST_STEPS, pastOf, STEP_MS } from "#core/outlook/past.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** A thermostat this near to its target lets the heater pause: its power is then not known. */
const NEAR_TARGET_K = 1;

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

/** The two days up to now, on the steps of the outlook: room and outdoors as it knows them, and heat by the journal. */
export function buildingPastOf(state: ZoneState): BuildingPast {
  const { line, log, moment, record } = state;
  const { airC, slabColdC } = pastOf(line, moment.nowMs);
  // A thermometer outdoors is enough; without one a feed stands in, unless it is in doubt.
  const outdoorC =
    outdoorAirOf(log, moment) ?? (believedFeed(log, moment) === null ? null : outdoorPastOf(log, moment)?.past.airC);
  return {
    stepMs: STEP_MS,
    airC,
    slabC: slabColdC,
    outdoorC: outdoorC ?? airC.map(() => Number.NaN),
    heatKW: airC.map((roomC, step) =>
      Number.isNaN(roomC) ? Number.NaN : loggedKW(record.heating, moment.nowMs - (PAST_STEPS - step) * STEP_MS, roomC),
    ),
  };
}
