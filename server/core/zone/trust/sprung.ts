// A slab probe that leaps from its slab onto the air and stays there has come off at that moment.
import { lastIndexAt } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { endOf, type Spell } from "#core/zone/trust/spell.ts";

/** From one reading to the next by so much: the surface of a slab takes longer. Common practice, no source. */
const LEAP_K = 1;
const LEAP_WITHIN_MS = 16 * 60_000;
/** Of what both sensors may be off by, and what a probe in the air still feels of the slab. Common practice, no source. */
const BIAS_SHARE = 0.8;
const NEAR_K = 0.3;
/** So much further off the air than at the leap it lies on something else again. */
const LEAVES_K = 0.7;
/** The leap must end on the air for so many readings: a draught passes. */
const STAYS = 3;
const BESIDE_MS = 10 * 60_000;

/** Probe minus air at each reading, NaN where the air was not heard. The chip of its own node speaks of its own moment. */
function offAirOf(
  { node, track }: SlabProbe,
  chips: readonly AirChip[],
): { readonly offK: Float64Array; readonly nearK: number } {
  const chip = chips.find((one) => one.node.id === node.id) ?? chips[0];
  const offK = new Float64Array(track.atMs.length).fill(Number.NaN);
  if (chip === undefined) return { offK, nearK: 0 };
  const { atMs, values } = chip.air;
  for (const [index, takenMs] of track.atMs.entries()) {
    const at = lastIndexAt(atMs, takenMs + BESIDE_MS / 2);
    if (at >= 0 && takenMs - (atMs[at] as number) <= BESIDE_MS)
      offK[index] = (track.values[index] as number) - (values[at] as number);
  }
  return { offK, nearK: NEAR_K + BIAS_SHARE * Math.hypot(node.accuracy.slabK, chip.node.accuracy.airK) };
}

/** Every stretch that a probe spent in the air after a leap. */
export function sprungSpells(probe: SlabProbe, chips: readonly AirChip[]): Spell[] {
  const { track, movedMs, name } = probe;
  const { atMs, values } = track;
  if (!values.some((valueC, index) => Math.abs(valueC - (values[index - 1] ?? valueC)) >= LEAP_K)) return [];
  const { offK, nearK } = offAirOf(probe, chips);
  const spells: Spell[] = [];
  const off = (index: number) => Math.abs(offK[index] as number);
  for (let index = 1; index + STAYS <= values.length; index++) {
    if ((atMs[index - 1] as number) < movedMs) continue;
    const leapK = Math.abs((values[index] as number) - (values[index - 1] as number));
    const airK = Math.abs((offK[index] as number) - (offK[index - 1] as number));
    if (!(leapK >= LEAP_K && airK >= LEAP_K)) continue;
    if ((atMs[index] as number) - (atMs[index - 1] as number) > LEAP_WITHIN_MS) continue;
    let stays = true;
    for (let at = index; at < index + STAYS; at++) stays &&= off(at) <= nearK;
    if (!stays) continue;
    let last = index;
    while (last + 1 < values.length && !(off(last + 1) > nearK + LEAVES_K)) last++;
    spells.push({
      probe: name,
      kind: "detached",
      sinceMs: atMs[index] as number,
      untilMs: endOf(track, last),
      measured: leapK,
      limit: LEAP_K,
    });
    index = last;
  }
  return spells;
}
