// One night of the study from a seed and an index: building, weather, nodes, feed, journal and the moments to ask at.
import type { FeedFetch } from "#core/zone/site.ts";
import type { Weather } from "../building/weather.ts";
import { STATIONS, type Station, stationOf, weatherHours } from "../night/stations.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import { type Draw, drawOf, nightSeed } from "./draw.ts";
import { buildingOf, doorsOf, type FloorKind, groundC, shellOf } from "./sample-building.ts";
import { coatsOf, type Stage } from "./sample-coats.ts";
import { feedOf } from "./sample-feed.ts";
import { type HeatKind, heatKind, heatOf } from "./sample-heat.ts";
import { nodesOf } from "./sample-nodes.ts";
import { eveningAt, meanOutdoorsC, type Run, runsOf, weatherOf } from "./year.ts";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const STEP_MS = 5 * 60_000;
const SETTLE_DAYS = 10;
const AREA_M2 = 80;
/** Golden section: any number of nights in a row lies evenly over the year. */
const GOLDEN = 0.618_033_988_749_895;
const STATION_IDS = ["EWR", "JFK", "LGA", "greensboro"] as const;

export interface Year {
  readonly station: Station;
  readonly runs: readonly Run[];
}

/** The years of all stations that have one, from the folder of their files. */
export function yearsIn(folder: string): readonly Year[] {
  return STATIONS.filter(({ id }) => STATION_IDS.some((each) => each === id)).map(({ id }) => {
    const station = stationOf(id);
    return { station, runs: runsOf(weatherHours(folder, station)) };
  });
}

export type OutdoorKnowledge = "none" | "node" | "feed" | "both";

export interface StudyNight {
  readonly index: number;
  readonly scenario: Scenario;
  readonly feeds: readonly FeedFetch[];
  readonly asksMs: readonly number[];
  readonly station: string;
  readonly floor: FloorKind;
  readonly looseness: number;
  readonly heat: HeatKind;
  readonly heatLogged: boolean;
  readonly outdoor: OutdoorKnowledge;
  readonly stage: Stage;
  /** Kind of the node fault; null = none. */
  readonly fault: string | null;
}

/** Every two hours from 14:00 over a day, and a few moments between. */
function asksOf(draw: Draw, fourteenMs: number): readonly number[] {
  const even = Array.from({ length: 13 }, (_, i) => fourteenMs + i * 2 * HOUR_MS);
  const odd = [1, 2, 3].map((i) => fourteenMs + Math.floor(draw.between(`ask-${i}`, 1, 24 * 60)) * 60_000);
  return [...new Set([...even, ...odd])].sort((a, b) => a - b);
}

/** About the temperature of the slab: heated rooms lend it most of their own, others what lies above and below. */
function expectedSlabC(heat: HeatKind, targetC: number, outdoorsC: number, belowC: number, floor: FloorKind): number {
  const idleC = floor === "deck" ? outdoorsC : 0.6 * outdoorsC + 0.4 * belowC;
  if (heat === "none") return idleC;
  return heat === "this-morning" ? idleC + 2 : targetC - 0.25 * Math.max(0, targetC - belowC);
}

function weatherFor(
  draw: Draw,
  years: readonly Year[],
  share: number,
): { weather: Weather; station: Station; fourteenMs: number } {
  const { station, runs } = draw.pick(
    "station",
    years.map((year) => [1, year] as const),
  );
  const { run, fourteenMs } = eveningAt(runs, station, share);
  return { weather: weatherOf(run), station, fourteenMs };
}

/** Night `index` of the study with this seed. The same three arguments always give the same night. */
export function sampleNight(years: readonly Year[], seed: number, index: number, faults: boolean): StudyNight {
  const own = nightSeed(seed, index);
  const draw = drawOf(own);
  const share = (drawOf(seed).u("start") + index * GOLDEN) % 1;
  const { weather, station, fourteenMs } = weatherFor(draw, years, share);
  const pastH = draw.chance("young", 0.1) ? draw.between("young-h", 8, 30) : draw.between("past-h", 50, 72);
  const fromMs = fourteenMs - Math.round((pastH * HOUR_MS) / STEP_MS) * STEP_MS;
  const shell = shellOf(draw);
  const belowC = groundC(draw, station.latitudeDeg, fourteenMs);
  const outdoorsC = meanOutdoorsC(weather, fourteenMs - 2 * DAY_MS, fourteenMs);
  const kind = heatKind(draw, outdoorsC);
  const targetC = Math.round(Math.max(outdoorsC + 3, draw.between("target", 8, 21)));
  const heated =
    kind === "none" ? null : heatOf(draw, { kind, targetC, outdoorsC, lossWPerK: shell.lossWPerK, fourteenMs, fromMs });
  const expectedC = expectedSlabC(kind, targetC, outdoorsC, belowC, shell.floor);
  const pourH = draw.between("pour", 0.7, 3);
  const coats = coatsOf(draw, { expectedC, fourteenMs, fromMs, pourH });
  const outdoor = draw.pick<OutdoorKnowledge>("outdoor", [
    [0.3, "none"],
    [0.36, "node"],
    [0.2, "feed"],
    [0.14, "both"],
  ]);
  const faulty = faults && draw.chance("faulty", 1 / 3);
  const nodes = nodesOf(draw, fourteenMs, outdoor === "node" || outdoor === "both", faulty);
  const heatLogged = heated !== null && draw.chance("logged", 0.5);
  const asksMs = asksOf(draw, fourteenMs);
  const journal = [...coats.journal, ...(heatLogged ? heated.journal : [])];
  return {
    index,
    scenario: {
      id: `night-${index}`,
      title: `${station.id} ${new Date(fourteenMs).toISOString().slice(0, 10)}`,
      seed: own,
      openedAtMs: fourteenMs,
      fromMs,
      settleMs: SETTLE_DAYS * DAY_MS,
      site: { id: "study", name: "A shed (invented)", timezone: station.timezone, altitudeM: station.altitudeM },
      sheets: [...new Map(coats.system.map((sheet) => [sheet.id, sheet])).values()],
      zones: [
        {
          id: SHED_ZONE,
          name: "Floor",
          areaM2: AREA_M2,
          pourM2PerH: AREA_M2 / pourH,
          system: coats.system.map((sheet) => sheet.id),
          base: "porous",
        },
      ],
      nodes,
      building: buildingOf(draw, shell, heated?.heat ?? null, doorsOf(draw, fourteenMs), {
        altitudeM: station.altitudeM,
        midnightMs: fourteenMs - 14 * HOUR_MS,
        groundC: belowC,
        startC: kind === "none" || kind === "this-morning" ? 0.5 * (outdoorsC + belowC) : expectedC,
      }),
      weather,
      journal: journal.sort((a, b) => a.at.localeCompare(b.at)),
      expect: [],
    },
    feeds:
      outdoor === "feed" || outdoor === "both"
        ? feedOf(draw, own, weather, Math.max(fromMs, fourteenMs - 60 * HOUR_MS), Math.max(...asksMs))
        : [],
    asksMs,
    station: station.id,
    floor: shell.floor,
    looseness: shell.looseness,
    heat: kind,
    heatLogged,
    outdoor,
    stage: coats.stage,
    fault: nodes.flatMap((node) => node.faults)[0]?.kind ?? null,
  };
}
