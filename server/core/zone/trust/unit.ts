// A number that only makes sense in another unit is blocked until a person confirms it.
import { cFromF } from "#core/units.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** A slab further from the air than this is not a slab in a building. Common practice, no source. */
const APART_K = 18;
/** No floor that anybody coats, and no air over it, is hotter than this; read in °F it is a room. Common practice, no source. */
const ROOM_AT_MOST_C = 45;
/** Read in °F, it must then lie this close to be taken for one. */
const CLOSE_K = 15;
/** Humidity sent as a share of one stays at or under this. */
const SHARE_PCT = 1;

function doubtOf(probe: string, measured: number, limit: number, sinceMs: number): Doubt {
  return { probe, kind: "unit", sinceMs, measured, limit };
}

/** A whole node set to °F agrees with itself; its numbers alone give it away. One hot chip among cool ones is in the sun. */
function tooHotForRoom(valueC: number): boolean {
  return valueC > ROOM_AT_MOST_C;
}

/** True if `valueC` makes no sense beside `otherC` but would in °F. */
function readsAsFahrenheit(valueC: number, otherC: number): boolean {
  return Math.abs(valueC - otherC) > APART_K && Math.abs(cFromF(valueC) - otherC) <= CLOSE_K;
}

/** Doubts about slab probes and chips from their last values. */
export function unitDoubts(slab: readonly SlabProbe[], chips: readonly AirChip[]): Doubt[] {
  const doubts: Doubt[] = [];
  const airs = chips.flatMap((chip) => chip.air.values.at(-1) ?? []);
  for (const probe of slab) {
    const slabC = probe.track.values.at(-1);
    const sinceMs = probe.track.atMs.at(-1);
    if (slabC === undefined || sinceMs === undefined) continue;
    const beside = airs.length > 0 && airs.every((airC) => readsAsFahrenheit(slabC, airC));
    if (beside || tooHotForRoom(slabC)) doubts.push(doubtOf(probe.name, slabC, APART_K, sinceMs));
  }
  const slabs = slab.flatMap((probe) => probe.track.values.at(-1) ?? []);
  for (const chip of chips) {
    const airC = chip.air.values.at(-1);
    const airMs = chip.air.atMs.at(-1);
    const beside = (value: number) => slabs.length > 0 && slabs.every((slabC) => readsAsFahrenheit(value, slabC));
    const airDoubt = airC !== undefined && ((airC > 40 && beside(airC)) || airs.every(tooHotForRoom));
    if (airDoubt && airMs !== undefined) doubts.push(doubtOf(`${chip.node.id}/air`, airC, APART_K, airMs));
    const recent = chip.rh.values.slice(-6);
    const rhMs = chip.rh.atMs.at(-1);
    if (recent.length > 0 && rhMs !== undefined && recent.every((rhPct) => rhPct <= SHARE_PCT && rhPct > 0)) {
      doubts.push(doubtOf(`${chip.node.id}/rh`, recent.at(-1) as number, SHARE_PCT, rhMs));
    }
  }
  return doubts;
}
