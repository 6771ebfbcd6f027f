// Plays a sampled night once: what its floor truly went through, and the log that a server would have of it.
import type { Series, PlainLog } from "#core/zone/site.ts";
import { entryFromBody } from "#contract/journal.ts";
import { seriesFromReadings } from "#contract/night-file.ts";
import { msFromIso } from "#contract/primitives.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { nodeFromBody, zoneFromBody } from "#contract/zone.ts";
import type { Firmware } from "../node/firmware.ts";
import type { SimNode } from "../node/spec.ts";
import { type HeardReading, worldOf } from "../scenario/play.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import type { Building } from "../building/building.ts";
import type { StudyNight } from "./sample.ts";

export const STEP_MS = 5 * 60_000;
const HOUR_MS = 3_600_000;
/** Truth is known this long after the last ask: a day and a half to come back in, and the night of that pour. */
export const AHEAD_H = 66;
/** The quantities that a judge needs. */
const KEPT = /^(slab(\.\d+)?|air|rh)$/;

/** What the floor went through, every five minutes from the nodes' first hour. */
export interface Course {
  readonly fromMs: number;
  readonly length: number;
  readonly coldC: Float64Array;
  readonly hotC: Float64Array;
  readonly airC: Float64Array;
  readonly rhPct: Float64Array;
  readonly dewPointC: Float64Array;
  /** Coldest patch minus dew point, K. */
  readonly marginK: Float64Array;
  /** Steepest rise of a patch over the last 90 min, K/h; NaN in the first 90 min. */
  readonly riseKPerH: Float64Array;
  /** Water on the wettest patch, g/m2. */
  readonly wetGPerM2: Float64Array;
}

export interface Played {
  readonly course: Course;
  readonly log: PlainLog;
}

const RISE_STEPS = 18;

export function emptyCourse(fromMs: number, length: number): Course {
  const column = () => new Float64Array(length);
  return {
    fromMs,
    length,
    coldC: column(),
    hotC: column(),
    airC: column(),
    rhPct: column(),
    dewPointC: column(),
    marginK: column(),
    riseKPerH: column(),
    wetGPerM2: column(),
  };
}

/** Writes down what the floor goes through as the building stands; `patchesC` keeps what each patch had before. */
export function note(course: Course, index: number, building: Building, patchesC: Float64Array[]): void {
  const room = building.roomOf(SHED_ZONE);
  const patches = building.patchesOf(SHED_ZONE).map((patch) => building.surfaceOf(SHED_ZONE, patch));
  const slabs = patches.map(({ slabC }) => slabC);
  course.coldC[index] = Math.min(...slabs);
  course.hotC[index] = Math.max(...slabs);
  course.airC[index] = room.airC;
  course.rhPct[index] = room.rhPct;
  course.dewPointC[index] = room.dewPointC;
  course.marginK[index] = Math.min(...slabs) - room.dewPointC;
  course.wetGPerM2[index] = 1000 * Math.max(...patches.map((patch) => patch.filmKgPerM2));
  const rises = slabs.map((slabC, at) => {
    const column = (patchesC[at] ??= new Float64Array(course.length));
    column[index] = slabC;
    return index < RISE_STEPS ? Number.NaN : (slabC - (column[index - RISE_STEPS] as number)) / 1.5;
  });
  course.riseKPerH[index] = Math.max(...rises);
}

/** Lets a node sample and send, and keeps what a server would have heard of it. */
export function hear(
  node: Firmware,
  atMs: number,
  building: Building,
  heard: HeardReading[],
  kept: RegExp = KEPT,
): void {
  node.sample(atMs, building);
  if (!node.hasNetwork(atMs)) return;
  node.keepTime(atMs);
  for (let pack = node.nextPack(); pack !== null; pack = node.nextPack()) {
    node.sent(pack);
    for (const round of pack.fresh)
      for (const { quantity, value } of round.values)
        if (kept.test(quantity))
          heard.push({ node: node.node.body.id, quantity, atMs: round.atS * 1000, value, heardMs: atMs });
  }
}

/** The log of a server that heard these series from these nodes. */
export function logOf(night: StudyNight, nodes: readonly SimNode[], series: readonly Series[]): PlainLog {
  const { scenario, feeds } = night;
  const { site } = scenario;
  return {
    site: site.id,
    timezone: site.timezone,
    altitudeM: site.altitudeM,
    sheets: scenario.sheets.map(sheetFromBody),
    zones: scenario.zones.map(zoneFromBody),
    nodes: nodes.map((node) => nodeFromBody(node.body)),
    journal: scenario.journal.map((body, index) => entryFromBody(body, `entry-${index + 1}`, msFromIso(body.at))),
    series,
    feeds,
  };
}

/** Steps from the nodes' first hour to the end of truth. */
export function stepsOf({ scenario, asksMs }: StudyNight): number {
  return Math.ceil((Math.max(...asksMs) + AHEAD_H * HOUR_MS - scenario.fromMs) / STEP_MS) + 1;
}

/** Runs the building once from the nodes' first hour to the end of truth; nodes speak until the last ask. */
export function playNight(night: StudyNight): Played {
  const { scenario } = night;
  const lastAskMs = Math.max(...night.asksMs);
  const length = stepsOf(night);
  const course = emptyCourse(scenario.fromMs, length);
  const patchesC: Float64Array[] = [];
  const world = worldOf(scenario);
  const heard: HeardReading[] = [];
  for (let index = 0; index < length; index++) {
    const atMs = scenario.fromMs + index * STEP_MS;
    world.building.advanceTo(atMs);
    note(course, index, world.building, patchesC);
    if (atMs > lastAskMs) continue;
    for (const node of world.nodes) if (node.nextSampleMs(atMs) === atMs) hear(node, atMs, world.building, heard);
  }
  return { course, log: logOf(night, scenario.nodes, seriesFromReadings(heard)) };
}
