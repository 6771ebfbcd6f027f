// A slab probe that leaps from its slab onto the air and stays there has come off at that moment.
import type { SlabProbe } from "#core/zone/probes.ts";
import { type Beside, lastInAir } from "#core/zone/trust/off-air.ts";
import { endOf, type Spell } from "#core/zone/trust/spell.ts";

/** From one reading to the next by so much: the surface of a slab takes longer. Common practice, no source. */
const LEAP_K = 1;
const LEAP_WITHIN_MS = 16 * 60_000;
/** The leap must end on the air for so many readings: a draught passes. */
const STAYS = 3;
/** So much further off the air than it leapt to, it lies on something else again. */
const LEAVES_K = 0.7;

/** Every stretch that a probe spent in the air after a leap. */
export function sprungSpells(probe: SlabProbe, { off: offAir }: Beside): Spell[] {
  const { track, movedMs, name } = probe;
  const { atMs, values } = track;
  const { offK, nearK } = offAir;
  const spells: Spell[] = [];
  const off = (index: number) => Math.abs(offK[index] as number);
  for (let index = 1; index + STAYS <= values.length; index++) {
    const leapK = Math.abs((values[index] as number) - (values[index - 1] as number));
    if (!(leapK >= LEAP_K && Math.abs((offK[index] as number) - (offK[index - 1] as number)) >= LEAP_K)) continue;
    const beforeMs = atMs[index - 1] as number;
    if (beforeMs < movedMs || (atMs[index] as number) - beforeMs > LEAP_WITHIN_MS) continue;
    let stays = true;
    for (let at = index; at < index + STAYS; at++) stays &&= off(at) <= nearK;
    if (!stays) continue;
    const last = lastInAir(offAir, index, nearK + LEAVES_K);
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
