// A node that computes its own dew point and contradicts its own temperature and humidity.
import { dewPointC, frostPointC } from "#core/air/dew-point.ts";
import { lastIndexAt } from "#core/zone/heard.ts";
import type { AirChip } from "#core/zone/probes.ts";
import { endOf, runsOf, type Spell } from "#core/zone/trust/spell.ts";

/** Further off than this after the ice convention: the chip, or its arithmetic, is wrong. */
export const OWN_DEW_POINT_K = 1;
const PAIR_MS = 60_000;

/** How far off it is at one of its words; below 0 °C a frost point is accepted for a dew point. 0 where nothing is beside it. */
function offK(chip: AirChip, atMs: number, saidC: number): number {
  const air = lastIndexAt(chip.air.atMs, atMs + PAIR_MS);
  const rh = lastIndexAt(chip.rh.atMs, atMs + PAIR_MS);
  const paired = [chip.air.atMs[air], chip.rh.atMs[rh]].every(
    (takenMs) => takenMs !== undefined && Math.abs(takenMs - atMs) <= PAIR_MS,
  );
  const rhPct = chip.rh.values[rh];
  const airC = chip.air.values[air];
  if (!paired || rhPct === undefined || airC === undefined || !(rhPct > 0)) return 0;
  const ours = dewPointC(airC, Math.min(rhPct, 100));
  const overWater = Math.abs(saidC - ours);
  return ours < 0 ? Math.min(overWater, Math.abs(saidC - frostPointC(airC, Math.min(rhPct, 100)))) : overWater;
}

/** Every stretch in which it contradicts itself. */
export function ownDewPointSpells(chip: AirChip): Spell[] {
  const { dew } = chip;
  if (dew === null) return [];
  const off = dew.values.map((saidC, index) => offK(chip, dew.atMs[index] as number, saidC));
  return runsOf(off.length, (index) => (off[index] as number) > OWN_DEW_POINT_K).map(({ first, last }) => ({
    probe: chip.name,
    kind: "own-dew-point",
    sinceMs: dew.atMs[first] as number,
    untilMs: endOf(dew, last),
    measured: Math.max(...off.slice(first, last + 1)),
    limit: OWN_DEW_POINT_K,
  }));
}
