// A node that computes its own dew point and contradicts its own temperature and humidity.
import { dewPointC, frostPointC } from "#core/air/dew-point.ts";
import type { Track } from "#core/zone/heard.ts";
import type { AirChip } from "#core/zone/probes.ts";
import { endOf, runsOf, type Spell } from "#core/zone/trust/spell.ts";

/** Further off than this after the ice convention: the chip, or its arithmetic, is wrong. */
export const OWN_DEW_POINT_K = 1;
const PAIR_MS = 60_000;

/** Whether a reading at `takenMs` was taken together with a word of `atMs`; none was where it is not known. */
const isPaired = (takenMs: number | undefined, atMs: number): boolean =>
  takenMs !== undefined && Math.abs(takenMs - atMs) <= PAIR_MS;

/** How far off it is, K; below 0 °C a frost point is accepted for a dew point. */
function offK(saidC: number, airC: number, rhPct: number): number {
  if (!(rhPct > 0)) return 0;
  const ours = dewPointC(airC, Math.min(rhPct, 100));
  const overWater = Math.abs(saidC - ours);
  return ours < 0 ? Math.min(overWater, Math.abs(saidC - frostPointC(airC, Math.min(rhPct, 100)))) : overWater;
}

/** The same at each of its words, beside the last that was said of both up to a minute later; 0 where nothing is beside it. */
function offsOf({ air, rh }: AirChip, dew: Track): number[] {
  let airAt = -1;
  let rhAt = -1;
  return dew.values.map((saidC, index) => {
    const atMs = dew.atMs[index] as number;
    while (airAt + 1 < air.atMs.length && (air.atMs[airAt + 1] as number) <= atMs + PAIR_MS) airAt++;
    while (rhAt + 1 < rh.atMs.length && (rh.atMs[rhAt + 1] as number) <= atMs + PAIR_MS) rhAt++;
    if (!isPaired(air.atMs[airAt], atMs) || !isPaired(rh.atMs[rhAt], atMs)) return 0;
    return offK(saidC, air.values[airAt] as number, rh.values[rhAt] as number);
  });
}

/** Every stretch in which it contradicts itself. */
export function ownDewPointSpells(chip: AirChip): Spell[] {
  const { dew } = chip;
  if (dew === null) return [];
  const off = offsOf(chip, dew);
  return runsOf(off.length, (index) => (off[index] as number) > OWN_DEW_POINT_K).map(({ first, last }) => ({
    probe: chip.name,
    kind: "own-dew-point",
    sinceMs: dew.atMs[first] as number,
    untilMs: endOf(dew, last),
    measured: Math.max(...off.slice(first, last + 1)),
    limit: OWN_DEW_POINT_K,
  }));
}
