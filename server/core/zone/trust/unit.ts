// A number that only makes sense in another unit is blocked until it makes sense again or a person confirms it.
import { cFromF } from "#core/units.ts";
import { extremesOf } from "#core/zone/extremes.ts";
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { endOf, runsOf, type Spell } from "#core/zone/trust/spell.ts";

/** A slab further from the air than this is not a slab in a building. Common practice, no source. */
const APART_K = 18;
/** No floor that anybody coats, and no air over it, is hotter than this; read in °F it is a room. Common practice, no source. */
const ROOM_AT_MOST_C = 45;
/** Air up to this may be air, whatever a cold floor says, and a slab down to frost a slab. Common practice, no source. */
const AIR_AT_MOST_C = 40;
const FREEZING_C = 0;
/** Read in °F, it must then lie this close to be taken for one. */
const CLOSE_K = 15;
/**
 * From one reading to the next by so much, and in °F where it stood: somebody switched the unit. Any warmth of a building
 * leaps by more; what it stood at is known this well after two hours. Common practice, no source.
 */
const SWITCH = { leastK: 15, closeK: 2, withinMs: 2 * 3_600_000 } as const;
/** Humidity sent as a share of one stays at or under this, so many times in a row. */
const SHARE = { pct: 1, times: 6 } as const;
/** Readings this far apart were taken together. */
const BESIDE_MS = 30 * 60_000;

/** True if `valueC` makes no sense beside `otherC` but would in °F. */
function readsAsFahrenheit(valueC: number, otherC: number): boolean {
  return Math.abs(valueC - otherC) > APART_K && Math.abs(cFromF(valueC) - otherC) <= CLOSE_K;
}

/** True if a track went over to °F with this step. */
function switches(beforeC: number, afterC: number): boolean {
  return Math.abs(afterC - beforeC) >= SWITCH.leastK && Math.abs(cFromF(afterC) - beforeC) <= SWITCH.closeK;
}

const NEVER: readonly boolean[] = [];

/** For each reading, whether the track had gone over to °F and not come back; none where no step was as large. */
function switchedOf({ atMs, values }: Track): readonly boolean[] {
  let leaps = false;
  for (let index = 1; index < values.length && !leaps; index++)
    leaps = Math.abs((values[index] as number) - (values[index - 1] as number)) >= SWITCH.leastK;
  if (!leaps) return NEVER;
  let over = false;
  return values.map((value, index) => {
    const before = values[index - 1];
    if (before === undefined) return false;
    const sinceMs = (atMs[index] as number) - (atMs[index - 1] as number);
    if (!over) over = sinceMs <= SWITCH.withinMs && switches(before, value);
    else if (switches(value, before) || (before - value >= SWITCH.leastK && value <= ROOM_AT_MOST_C)) over = false;
    return over;
  });
}

interface Side {
  readonly node: string;
  readonly track: Track;
  readonly switched: readonly boolean[];
  readonly lowestC: number;
  readonly highestC: number;
}

function sideOf(node: string, track: Track): Side {
  const { lowest, highest } = extremesOf(track.values);
  // No step is larger than all of it.
  const switched = highest - lowest >= SWITCH.leastK ? switchedOf(track) : NEVER;
  return { node, track, switched, lowestC: lowest, highestC: highest };
}

/** What the other side said beside a reading: of other nodes, since a whole node set to °F agrees with itself; else its own. */
function besideOf(of: Side, sides: readonly Side[], atMs: number): readonly number[] {
  const said = sides.flatMap(({ node, track, switched }) => {
    const at = lastIndexAt(track.atMs, atMs);
    const fresh = at >= 0 && atMs - (track.atMs[at] as number) <= BESIDE_MS && !switched[at];
    return fresh ? [{ node, valueC: track.values[at] as number }] : [];
  });
  const others = said.filter(({ node }) => node !== of.node);
  return (others.length > 0 ? others : said).map(({ valueC }) => valueC);
}

/** `sides`: what it is held against; `like`: others of its kind, of which one alone may be hot. */
function spellsOf(probe: string, of: Side, sides: readonly Side[], like: readonly Side[], leastC: number): Spell[] {
  const { track, switched } = of;
  // Nothing under this is far from anything that was said beside it.
  const plainC = Math.max(leastC, APART_K + Math.min(ROOM_AT_MOST_C - APART_K, ...sides.map(({ lowestC }) => lowestC)));
  if (switched === NEVER && of.highestC <= plainC) return [];
  const doubted = track.values.map((valueC, index) => {
    if (switched[index]) return true;
    if (valueC <= plainC) return false;
    const atMs = track.atMs[index] as number;
    const beside = besideOf(of, sides, atMs);
    if (beside.length > 0 && beside.every((otherC) => readsAsFahrenheit(valueC, otherC))) return true;
    return valueC > ROOM_AT_MOST_C && besideOf(of, like, atMs).every((otherC) => otherC > ROOM_AT_MOST_C);
  });
  return runsOf(doubted.length, (index) => doubted[index] as boolean).map(({ first, last }) => ({
    probe,
    kind: "unit",
    sinceMs: track.atMs[first] as number,
    untilMs: endOf(track, last),
    measured: track.values[last] as number,
    limit: APART_K,
  }));
}

function shareSpells({ node, rh }: AirChip): Spell[] {
  if (extremesOf(rh.values).lowest > SHARE.pct) return [];
  return runsOf(rh.values.length, (at) => (rh.values[at] as number) <= SHARE.pct && (rh.values[at] as number) > 0)
    .filter(({ first, last }) => last - first + 1 >= Math.min(SHARE.times, rh.values.length))
    .map(({ first, last }) => ({
      probe: `${node.id}/rh`,
      kind: "unit",
      sinceMs: rh.atMs[first] as number,
      untilMs: endOf(rh, last),
      measured: rh.values[last] as number,
      limit: SHARE.pct,
    }));
}

/** Every stretch of a slab probe or chip that was said in another unit. */
export function unitSpells(slab: readonly SlabProbe[], chips: readonly AirChip[]): Spell[] {
  const slabs = slab.map((probe) => sideOf(probe.node.id, probe.track));
  const airs = chips.map((chip) => sideOf(chip.node.id, chip.air));
  return [
    ...slab.flatMap((probe, index) => spellsOf(probe.name, slabs[index] as Side, airs, [], FREEZING_C)),
    ...chips.flatMap((chip, index) => [
      ...spellsOf(`${chip.node.id}/air`, airs[index] as Side, slabs, airs, AIR_AT_MOST_C),
      ...shareSpells(chip),
    ]),
  ];
}
