// A slab probe that follows the air through its fast swings, in size and without delay, has come off the slab.
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { gainIn } from "#core/zone/trust/gain.ts";
import { mirrorSpells } from "#core/zone/trust/mirrors.ts";
import { besideOf } from "#core/zone/trust/off-air.ts";
import { rideSpells } from "#core/zone/trust/rides.ts";
import { sprungSpells } from "#core/zone/trust/sprung.ts";
import type { Spell } from "#core/zone/trust/spell.ts";

/** Swings are read over these lags: a slab, even a thin one, lags behind air by more. The short one sees fast heaters. */
const LAGS_MS = [30 * 60_000, 10 * 60_000];
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
function findingIn(
  probe: SlabProbe,
  chips: readonly AirChip[],
  fromMs: number,
  toMs: number,
): Finding | "sound" | null {
  const gains = chips
    .flatMap((chip) => LAGS_MS.map((lagMs) => gainIn(probe.track, chip.air, { fromMs, toMs, lagMs, leastK: SWING_K })))
    .filter((gain) => gain.swings >= SWINGS_EACH_WAY);
  if (gains.length === 0) return null;
  const most = Math.max(...gains.map((gain) => Math.min(gain.up, gain.down)));
  return most >= FOLLOWS ? { measured: most, limit: FOLLOWS } : "sound";
}

/**
 * Reads the last 48 h in blocks: one that convicts begins a spell and one that acquits ends it, a calm night does neither.
 * Then rides with the air, leaps onto it, and its small swings.
 */
export function detachedSpells(probe: SlabProbe, chips: readonly AirChip[], nowMs: number): Spell[] {
  const spells: Spell[] = [];
  let open: Spell | null = null;
  for (let block = BLOCKS - 1; block >= 0; block--) {
    const toMs = nowMs - block * BLOCK_MS;
    const fromMs = Math.max(toMs - BLOCK_MS, probe.movedMs);
    if (fromMs >= toMs) continue;
    const finding = findingIn(probe, chips, fromMs, toMs);
    if (finding === null) continue;
    if (finding === "sound") {
      if (open !== null) spells.push({ ...open, untilMs: fromMs });
      open = null;
    } else
      open ??= { probe: probe.name, kind: "detached", sinceMs: fromMs, untilMs: Number.POSITIVE_INFINITY, ...finding };
  }
  if (open !== null) spells.push(open);
  const beside = besideOf(probe, chips);
  if (beside === null) return spells;
  return [
    ...spells,
    ...rideSpells(probe, beside, nowMs),
    ...sprungSpells(probe, beside),
    ...mirrorSpells(probe, beside, nowMs),
  ];
}
