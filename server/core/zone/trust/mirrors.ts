// A slab probe that shows the small swings of the air, all of them and at once, lies in it: a heater that cycles is enough.
import { lastIndexAt } from "#core/zone/heard.ts";
import type { SlabProbe } from "#core/zone/probes.ts";
import { gainIn } from "#core/zone/trust/gain.ts";
import { type Beside, lastInAir, type OffAir, standsOff, SWING_LEAST_K } from "#core/zone/trust/off-air.ts";
import { endOf, type Spell } from "#core/zone/trust/spell.ts";

const HOUR_MS = 3_600_000;
/** Windows are laid so far apart and always at the same times: what was told once is told later too. */
const APART_MS = 2 * HOUR_MS;
const WINDOW_MS = 4 * HOUR_MS;
const LOOK_BACK_MS = 48 * HOUR_MS;
/**
 * Swings of this size are several steps of both sensors, and so many each way are no accident. A slab shows a fifth of them,
 * a thin one half; and one that the sun warms does not read what the air reads. Common practice, no source.
 */
const SWING_K = SWING_LEAST_K;
const SWINGS_EACH_WAY = 6;
const FOLLOWS = 0.75;
/** So many of its readings lie as near to the air as both may be off by, and this: the air moves between two readings. */
const NEAR_SHARE = 0.9;
const LEAVES_K = 0.3;

/** Every stretch in which a probe mirrored the air, to where it left it. */
export function mirrorSpells(probe: SlabProbe, { air, off }: Beside, nowMs: number): Spell[] {
  const { track, movedMs, name } = probe;
  const nearK = off.nearK + LEAVES_K;
  if (air.swings.length === 0 || standsOff(off, nearK)) return [];
  const oldestMs = Math.max(nowMs - LOOK_BACK_MS, movedMs);
  const starts = [Math.max(nowMs - WINDOW_MS, oldestMs)];
  for (let atMs = Math.ceil(oldestMs / APART_MS) * APART_MS; atMs + WINDOW_MS < nowMs; atMs += APART_MS)
    starts.push(atMs);
  return starts.flatMap((fromMs): Spell[] => {
    const ask = { fromMs, toMs: fromMs + WINDOW_MS, leastK: SWING_K, eachWay: SWINGS_EACH_WAY };
    let measured = 0;
    for (const swings of air.swings) {
      const gain = gainIn(track, swings, ask);
      if (gain !== null) measured = Math.max(measured, Math.min(gain.up, gain.down));
    }
    if (!(measured >= FOLLOWS)) return [];
    const first = lastIndexAt(track.atMs, ask.fromMs - 1) + 1;
    const end = lastIndexAt(track.atMs, ask.toMs) + 1;
    if (!liesNear(off, nearK, first, end)) return [];
    // What was as near just before, of which no window tells, goes with it.
    let begin = first;
    const wasNear = (index: number) =>
      (track.atMs[index] as number) >= Math.max(movedMs, fromMs - APART_MS) &&
      Math.abs(off.offK[index] as number) <= nearK;
    while (begin > 0 && wasNear(begin - 1)) begin--;
    const untilMs = endOf(track, lastInAir(off, end - 1, nearK));
    const sinceMs = track.atMs[begin] as number;
    return [{ probe: name, kind: "detached", sinceMs, untilMs, measured, limit: FOLLOWS }];
  });
}

/** Whether nearly all readings from `first` to before `end` lie near the air, and there are enough of them. */
function liesNear({ offK }: OffAir, nearK: number, first: number, end: number): boolean {
  let heard = 0;
  let near = 0;
  for (let index = first; index < end; index++) {
    const off = Math.abs(offK[index] as number);
    if (Number.isNaN(off)) continue;
    heard++;
    if (off <= nearK) near++;
  }
  return heard >= 2 * SWINGS_EACH_WAY && near >= NEAR_SHARE * heard;
}
