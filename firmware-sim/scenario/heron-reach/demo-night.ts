// The demo: Heron Reach boathouse at six on a winter evening, whenever it is opened. Five zones, one for each thing a call can say.
import { riverWinter } from "../../building/weather.ts";
import { type HeardReading, readingsUntil } from "../play.ts";
import type { ExpectedCall, Scenario } from "../scenario.ts";
import { boathouse } from "./building.ts";
import { heronReachJournal } from "./journal.ts";
import { heronReachNodes, heronReachSite, SHEETS, ZONES } from "./site.ts";

const HOUR_MS = 3_600_000;
/** Hours of past that the nodes bring with them. */
export const DEMO_PAST_H = 54;

/** The scenario laid around `openedAtMs` (taken down to its whole minute). The same seed gives the same night at any moment. */
export function heronReach(openedAtMs: number, seed: number): Scenario {
  const openedMs = Math.floor(openedAtMs / 60_000) * 60_000;
  const building = boathouse(openedMs);
  const expectAt = (zone: string, call: ExpectedCall["call"], limiting: ExpectedCall["limiting"]): ExpectedCall => ({
    atMs: openedMs,
    zone,
    call,
    limiting,
  });
  return {
    id: "heron-reach",
    title: "A boathouse on a winter evening: pour, wait for the night, abrade, finished, and a silent node",
    seed,
    openedAtMs: openedMs,
    fromMs: openedMs - DEMO_PAST_H * HOUR_MS,
    settleMs: 12 * 24 * HOUR_MS,
    site: heronReachSite(openedMs),
    sheets: SHEETS,
    zones: ZONES,
    nodes: heronReachNodes(openedMs),
    building,
    weather: riverWinter({
      seed,
      midnightMs: building.midnightMs,
      meanC: 6.6,
      swingK: 4.4,
      dewPointC: 1.15,
      mistK: 1.1,
      wanderK: 0.35,
      windMPerS: 2.2,
    }),
    journal: heronReachJournal(openedMs),
    expect: [
      expectAt("launch-bay", "wait", ["night-dew"]),
      expectAt("clubroom", "pour", [null]),
      expectAt("workshop", "abrade", ["window-closed"]),
      expectAt("entrance", "finished", [null]),
      expectAt("oar-store", "wait", ["data-stale"]),
    ],
  };
}

export interface DemoNight extends Scenario {
  readonly readings: readonly HeardReading[];
  readingsOf(node: string): readonly HeardReading[];
}

/** The demo with all that its nodes had said by the moment of opening (or `toMs`), as if each reading was heard at once. */
export function demoNight(openedAtMs: number, seed: number, toMs = openedAtMs): DemoNight {
  const scenario = heronReach(openedAtMs, seed);
  const readings = readingsUntil(scenario, toMs);
  return { ...scenario, readings, readingsOf: (node) => readings.filter((reading) => reading.node === node) };
}
