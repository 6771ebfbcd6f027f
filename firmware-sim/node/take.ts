// One round of readings: what the probes of a node say of the building at a moment.
import type { Building } from "../building/building.ts";
import { saturationOverWaterPa } from "../building/vapour.ts";
import { humidityOutdoorsPct } from "../building/weather.ts";
import { uniform } from "../random.ts";
import { nodeDewPointC } from "./dew.ts";
import { AIR_STEP_K, quantise, RH_STEP_PCT, sense, SLAB_STEP_K } from "./sensor.ts";
import { driftedK, faultAt, type SimNode, type VapourDose } from "./spec.ts";

export interface Value {
  readonly quantity: string;
  readonly value: number;
}

/** Share of its temperature that a well taped probe takes from the air above it; of one that has come off. */
const AIR_SHARE_TAPED = 0.03;
const AIR_SHARE_LOOSE = 0.93;
/** Power-up code of one-wire probes, °C. */
const POWER_UP_C = 85;
/** A poisoned humidity sensor reads this much low in wet air, after this long. Common practice, no source. */
const POISONED_PCT = 8;
const POISONED_H = 48;
const SUN_STRUCK_K = 3;
const FULL_PCT = 97;
/** What an old cell tells less for every degree below ten, and the cold in which it fails. Common practice, no source. */
const COLD_PCT_PER_K = 2;
const COLD_BELOW_C = 10;
export const STARVED_BELOW_C = -6;
const DRAIN_PCT_PER_DAY = 0.35;

/** Share of its full loss that vapour has brought a sensor to. */
function poisonedShare({ growH, vapourUntilMs, recoverH }: VapourDose, fromMs: number, atMs: number): number {
  const soakedH = (Math.min(atMs, vapourUntilMs) - fromMs) / 3_600_000;
  const awayH = Math.max(0, atMs - vapourUntilMs) / 3_600_000;
  return (1 - Math.exp(-Math.max(0, soakedH) / growH)) * Math.exp(-awayH / recoverH);
}

/** How much too low a poisoned sensor reads, %RH, and only in damp air; without a dose a quarter at once and all in two days. */
function poisonedPct(node: SimNode, atMs: number, rhPct: number): number {
  const damp = Math.min(1, Math.max(0, (rhPct - 30) / 60));
  let sumPct = 0;
  for (const fault of node.faults) {
    if (fault.kind !== "poisoned" || atMs < fault.fromMs || atMs >= fault.toMs) continue;
    if (fault.dose !== undefined) sumPct += fault.dose.mostPct * poisonedShare(fault.dose, fault.fromMs, atMs);
    else sumPct += POISONED_PCT * (0.25 + 0.75 * Math.min(1, (atMs - fault.fromMs) / 3_600_000 / POISONED_H));
  }
  return damp * sumPct;
}

/**
 * Readings in the order in which the node sends them; `index` counts the node's rounds since `startMs`, `last` is the
 * round before, which a frozen value repeats.
 */
export function takeReadings(
  node: SimNode,
  seed: number,
  building: Building,
  startMs: number,
  index: number,
  last: readonly Value[] = [],
): readonly Value[] {
  const taken = takenNow(node, seed, building, startMs, index);
  if (!node.faults.some((fault) => fault.kind === "frozen")) return taken;
  return taken.map((value) =>
    faultAt(node, "frozen", building.atMs(), value.quantity)
      ? (last.find((each) => each.quantity === value.quantity) ?? value)
      : value,
  );
}

const F_STEP = 0.1;
const TEMPERATURE = /^(slab(\.\d+)?|air|dew)$/;

/** A node in the other unit converts all that it has felt and reckoned in °C last of all, to a tenth of °F. */
function asSent(node: SimNode, atMs: number, value: Value): Value {
  if (!TEMPERATURE.test(value.quantity) || !faultAt(node, "fahrenheit", atMs)) return value;
  return { quantity: value.quantity, value: quantise(value.value * 1.8 + 32, F_STEP) };
}

function takenNow(node: SimNode, seed: number, building: Building, startMs: number, index: number): readonly Value[] {
  const { id, zone, accuracy } = node.body;
  const atMs = building.atMs();
  const outdoors = building.outdoors();
  const room = zone === null ? null : building.roomOf(zone);
  const airC = room?.airC ?? outdoors.airC;
  const rhPct = room?.rhPct ?? humidityOutdoorsPct(outdoors);
  const chipC = airC + (faultAt(node, "sun-struck", atMs) ? SUN_STRUCK_K : 0);
  const chipPct = (rhPct * saturationOverWaterPa(airC)) / saturationOverWaterPa(chipC);
  const values: Value[] = [];
  for (const [quantity, patch] of Object.entries(node.slabs)) {
    if (zone === null) continue;
    if (faultAt(node, "power-up-code", atMs, quantity)) {
      values.push({ quantity, value: POWER_UP_C });
      continue;
    }
    const share = faultAt(node, "loose", atMs, quantity) ? AIR_SHARE_LOOSE : AIR_SHARE_TAPED;
    // Water that creeps into a probe's sleeve shifts what it says slowly and to one side. Common practice, no source.
    const feltC = (1 - share) * building.surfaceOf(zone, patch).slabC + share * airC + driftedK(node, quantity, atMs);
    values.push({
      quantity,
      value: sense({ seed, name: `${id}/${quantity}`, bound: accuracy.slabK, step: SLAB_STEP_K }, feltC, index),
    });
  }
  const air = sense({ seed, name: `${id}/air`, bound: accuracy.airK, step: AIR_STEP_K }, chipC, index);
  const felt = faultAt(node, "saturated", atMs) ? 100 : chipPct - poisonedPct(node, atMs, chipPct);
  const rh = Math.min(
    100,
    Math.max(0, sense({ seed, name: `${id}/rh`, bound: accuracy.rhPct, step: RH_STEP_PCT }, felt, index)),
  );
  values.push({ quantity: "air", value: air });
  values.push({ quantity: "rh", value: faultAt(node, "saturated", atMs) ? 100 : rh });
  values.push({ quantity: "dew", value: nodeDewPointC(air, faultAt(node, "saturated", atMs) ? 100 : rh) });
  const dayCount = (atMs - startMs) / 86_400_000;
  const sagPct = faultAt(node, "weak-battery", atMs) ? 40 + COLD_PCT_PER_K * Math.max(0, COLD_BELOW_C - airC) : 0;
  values.push({
    quantity: "battery",
    value: Math.max(0, Math.round(FULL_PCT - 25 * uniform(seed, `${id}/cell`) - DRAIN_PCT_PER_DAY * dayCount - sagPct)),
  });
  values.push({
    quantity: "rssi",
    value: Math.round(-58 - 18 * uniform(seed, `${id}/far`) + 4 * (uniform(seed, `${id}/fade`, index) - 0.5)),
  });
  if (node.door !== null && zone !== null)
    values.push({ quantity: "door", value: building.doorOpen(zone, node.door) ? 1 : 0 });
  return values.map((value) => asSent(node, atMs, value));
}
