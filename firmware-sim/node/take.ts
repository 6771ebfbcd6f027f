// One round of readings: what the probes of a node say of the building at a moment.
import type { Building } from "../building/building.ts";
import { humidityOutdoorsPct } from "../building/weather.ts";
import { uniform } from "../random.ts";
import { nodeDewPointC } from "./dew.ts";
import { AIR_STEP_K, RH_STEP_PCT, sense, SLAB_STEP_K } from "./sensor.ts";
import { faultAt, type SimNode } from "./spec.ts";

export interface Value {
  readonly quantity: string;
  readonly value: number;
}

/** Share of its temperature that a well taped probe takes from the air above it; of one that has come off. */
const AIR_SHARE_TAPED = 0.03;
const AIR_SHARE_LOOSE = 0.93;
/** Power-up code of one-wire probes, °C. */
const POWER_UP_C = 85;
const FULL_PCT = 97;
const DRAIN_PCT_PER_DAY = 0.35;

/** Readings in the order in which the node sends them; `index` counts the node's rounds since `startMs`. */
export function takeReadings(
  node: SimNode,
  seed: number,
  building: Building,
  startMs: number,
  index: number,
): readonly Value[] {
  const { id, zone, accuracy } = node.body;
  const atMs = building.atMs();
  const outdoors = building.outdoors();
  const room = zone === null ? null : building.roomOf(zone);
  const airC = room?.airC ?? outdoors.airC;
  const rhPct = room?.rhPct ?? humidityOutdoorsPct(outdoors);
  const values: Value[] = [];
  for (const [quantity, patch] of Object.entries(node.slabs)) {
    if (zone === null) continue;
    if (faultAt(node, "power-up-code", atMs, quantity)) {
      values.push({ quantity, value: POWER_UP_C });
      continue;
    }
    const share = faultAt(node, "loose", atMs, quantity) ? AIR_SHARE_LOOSE : AIR_SHARE_TAPED;
    const feltC = (1 - share) * building.surfaceOf(zone, patch).slabC + share * airC;
    values.push({
      quantity,
      value: sense({ seed, name: `${id}/${quantity}`, bound: accuracy.slabK, step: SLAB_STEP_K }, feltC, index),
    });
  }
  const air = sense({ seed, name: `${id}/air`, bound: accuracy.airK, step: AIR_STEP_K }, airC, index);
  const felt = faultAt(node, "saturated", atMs) ? 100 : rhPct;
  const rh = Math.min(
    100,
    Math.max(0, sense({ seed, name: `${id}/rh`, bound: accuracy.rhPct, step: RH_STEP_PCT }, felt, index)),
  );
  values.push({ quantity: "air", value: air });
  values.push({ quantity: "rh", value: faultAt(node, "saturated", atMs) ? 100 : rh });
  values.push({ quantity: "dew", value: nodeDewPointC(air, faultAt(node, "saturated", atMs) ? 100 : rh) });
  const dayCount = (atMs - startMs) / 86_400_000;
  values.push({
    quantity: "battery",
    value: Math.max(0, Math.round(FULL_PCT - 25 * uniform(seed, `${id}/cell`) - DRAIN_PCT_PER_DAY * dayCount)),
  });
  values.push({
    quantity: "rssi",
    value: Math.round(-58 - 18 * uniform(seed, `${id}/far`) + 4 * (uniform(seed, `${id}/fade`, index) - 0.5)),
  });
  if (node.door !== null && zone !== null)
    values.push({ quantity: "door", value: building.doorOpen(zone, node.door) ? 1 : 0 });
  return values;
}
