// A slab probe that follows the air through its fast swings, in size and without delay, has come off the slab.
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { gainIn } from "#core/zone/trust/gain.ts";
import { mirrorSpells } from "#core/zone/trust/mirrors.ts";
import { type Air, airOf, besideOf } from "#core/zone/trust/off-air.ts";
import { rideSpells } from "#core/zone/trust/rides.ts";
import { sprungSpells } from "#core/zone/trust/sprung.ts";
import type { Spell } from "#core/zone/trust/spell.ts";

/** An air change over the lag that counts as a swing. */
const SWING_K = 1;
/** Share of the air's swing that the probe shows at the same time. A slab on ground shows under 0.2, a thin one under 0.5. */
const FOLLOWS = 0.75;
/** Swings up and swings down, each at least this many, so that one cooling or one warming is not taken for it. */
const SWINGS_EACH_WAY = 2;
const BLOCK_MS = 6 * 3_600_000;
const BLOCKS = 8;

interface Finding {
  readonly measured: number;
  readonly limit: number;
}

/** What one block says of a probe: how it follows the air, `sound` if it does not, null if the air was too calm to tell. */
function findingIn(probe: SlabProbe, airs: readonly Air[], fromMs: number, toMs: number): Finding | "sound" | null {
  const ask = { fromMs, toMs, leastK: SWING_K, eachWay: SWINGS_EACH_WAY };
  let most: number | null = null;
  for (const { swings } of airs) {
    for (const one of swings) {
      const gain = gainIn(probe.track, one, ask);
      if (gain !== null) most = Math.max(most ?? Number.NEGATIVE_INFINITY, Math.min(gain.up, gain.down));
    }
  }
  if (most === null) return null;
  return most >= FOLLOWS ? { measured: most, limit: FOLLOWS } : "sound";
}

/**
 * Every stretch in which a probe lay in the air: as the last 48 h tell in blocks, by rides with the air, leaps onto it, and
 * its small swings.
 */
export function detachedSpells(slab: readonly SlabProbe[], chips: readonly AirChip[], nowMs: number): Spell[] {
  const airs = chips.map(airOf);
  return slab.flatMap((probe) => {
    const spells = blockSpells(probe, airs, nowMs);
    const beside = besideOf(probe, airs);
    if (beside === null) return spells;
    return [
      ...spells,
      ...rideSpells(probe, beside, nowMs),
      ...sprungSpells(probe, beside),
      ...mirrorSpells(probe, beside, nowMs),
    ];
  });
}

/** A block that convicts begins a spell and one that acquits ends it, a calm night does neither. */
function blockSpells(probe: SlabProbe, airs: readonly Air[], nowMs: number): Spell[] {
  const spells: Spell[] = [];
  let open: Spell | null = null;
  for (let block = BLOCKS - 1; block >= 0; block--) {
    const toMs = nowMs - block * BLOCK_MS;
    const fromMs = Math.max(toMs - BLOCK_MS, probe.movedMs);
    if (fromMs >= toMs) continue;
    const finding = findingIn(probe, airs, fromMs, toMs);
    if (finding === null) continue;
    if (finding === "sound") {
      if (open !== null) spells.push({ ...open, untilMs: fromMs });
      open = null;
    } else
      open ??= { probe: probe.name, kind: "detached", sinceMs: fromMs, untilMs: Number.POSITIVE_INFINITY, ...finding };
  }
  if (open !== null) spells.push(open);
  return spells;
}
