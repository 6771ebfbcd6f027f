// Plays a scenario over past time: the building runs, the nodes sample, and what they said is kept as readings.
import type { Reading } from "#contract/reading.ts";
import { Building } from "../building/building.ts";
import { Firmware } from "../node/firmware.ts";
import type { Scenario } from "./scenario.ts";

export interface World {
  readonly building: Building;
  readonly nodes: readonly Firmware[];
}

/** The building settled in its weather, and its nodes just switched on, at `scenario.fromMs`. */
export function worldOf(scenario: Scenario, skewMs = 0): World {
  const building = new Building(scenario.building, scenario.weather, scenario.fromMs - scenario.settleMs);
  building.advanceTo(scenario.fromMs);
  return { building, nodes: scenario.nodes.map((node) => new Firmware(node, scenario.seed, scenario.fromMs, skewMs)) };
}

/** Lets every node sample, in order of time, from where the building stands up to and with `toMs`. */
export function sampleUntil(
  world: World,
  fromMs: number,
  toMs: number,
  each: (node: Firmware, atMs: number) => void,
): void {
  const next = world.nodes.map((node) => ({ node, atMs: node.nextSampleMs(fromMs) }));
  for (;;) {
    const first = next.reduce((a, b) => (b.atMs < a.atMs ? b : a));
    if (first.atMs > toMs) break;
    world.building.advanceTo(first.atMs);
    first.node.sample(first.atMs, world.building);
    each(first.node, first.atMs);
    first.atMs = first.node.nextSampleMs(first.atMs + 1);
  }
  world.building.advanceTo(toMs);
}

/** A reading with the time at which the server would have heard it. */
export interface HeardReading extends Reading {
  readonly heardMs: number;
}

/** All that the nodes of a scenario say from its beginning to `toMs`, over a network that loses nothing. */
export function readingsUntil(scenario: Scenario, toMs: number): readonly HeardReading[] {
  const world = worldOf(scenario);
  const readings: HeardReading[] = [];
  sampleUntil(world, scenario.fromMs, toMs, (node, atMs) => {
    if (!node.hasNetwork(atMs)) return;
    node.keepTime(atMs);
    for (let pack = node.nextPack(); pack !== null; pack = node.nextPack()) {
      node.sent(pack);
      for (const round of pack.fresh) {
        for (const { quantity, value } of round.values) {
          readings.push({ node: node.node.body.id, quantity, atMs: round.atS * 1000, value, heardMs: atMs });
        }
      }
    }
  });
  return readings;
}
