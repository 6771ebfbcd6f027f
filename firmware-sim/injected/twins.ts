// Plays a night once with its nodes as they are and as many times over as it has cases: one building, many ears.
import type { Series, PlainLog } from "#core/zone/site.ts";
import type { EntryBody } from "#contract/journal.ts";
import { seriesFromReadings } from "#contract/night-file.ts";
import { Firmware } from "../node/firmware.ts";
import type { SimNode } from "../node/spec.ts";
import { type HeardReading, worldOf } from "../scenario/play.ts";
import { type Course, emptyCourse, hear, logOf, note, STEP_MS, stepsOf } from "../study/play.ts";
import type { StudyNight } from "../study/sample.ts";

/** What a judge needs, and the battery, of which there may be a doubt. */
const KEPT = /^(slab(\.\d+)?|air|rh|battery)$/;
/** A reading stamped later than this after it was heard is refused at the door. */
const AHEAD_MS = 2 * 60_000;

export interface Twins {
  readonly course: Course;
  /** What the nodes of a case said; those without a fault are the nodes of the night themselves. */
  readingsOf(nodes: readonly SimNode[]): readonly HeardReading[];
  /** `journal`: what was written down besides. */
  logOf(nodes: readonly SimNode[], journal?: readonly EntryBody[]): PlainLog;
}

/** Twins share building, noise and seed; they differ by what is wrong with their nodes, from the start of the fault on. */
export function playTwins(night: StudyNight, sets: readonly (readonly SimNode[])[]): Twins {
  const { scenario, asksMs } = night;
  const lastAskMs = Math.max(...asksMs);
  const length = stepsOf(night);
  const course = emptyCourse(scenario.fromMs, length);
  const patchesC: Float64Array[] = [];
  const { building } = worldOf({ ...scenario, nodes: [] });
  const nodes = [...new Set([...scenario.nodes, ...sets.flat()])].map((node) => ({
    node,
    firmware: new Firmware(node, scenario.seed, scenario.fromMs),
    heard: [] as HeardReading[],
  }));
  for (let index = 0; index < length; index++) {
    const atMs = scenario.fromMs + index * STEP_MS;
    building.advanceTo(atMs);
    note(course, index, building, patchesC);
    if (atMs > lastAskMs) continue;
    for (const { firmware, heard } of nodes)
      if (firmware.nextSampleMs(atMs) === atMs) hear(firmware, atMs, building, heard, KEPT);
  }
  const said = new Map(
    nodes.map(({ node, heard }) => [node, heard.filter(({ atMs, heardMs }) => atMs <= heardMs + AHEAD_MS)]),
  );
  const series = new Map<SimNode, readonly Series[]>();
  const seriesOf = (node: SimNode) => {
    const known = series.get(node) ?? seriesFromReadings(said.get(node) ?? []);
    series.set(node, known);
    return known;
  };
  return {
    course,
    readingsOf: (of) => of.flatMap((node) => said.get(node) ?? []),
    logOf: (of, journal = []) =>
      logOf(
        { ...night, scenario: { ...scenario, journal: [...scenario.journal, ...journal] } },
        of,
        of.flatMap(seriesOf),
      ),
  };
}
