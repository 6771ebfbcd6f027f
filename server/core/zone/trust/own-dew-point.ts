// A node that computes its own dew point and contradicts its own temperature and humidity.
import { dewPointC, frostPointC } from "#core/air/dew-point.ts";
import { lastIndexAt } from "#core/zone/heard.ts";
import type { AirChip } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** Further off than this after the ice convention: the chip, or its arithmetic, is wrong. */
export const OWN_DEW_POINT_K = 1;
const LOOK_BACK_MS = 30 * 60_000;
const PAIR_MS = 60_000;

/** Looks at the last half hour; below 0 °C a frost point is accepted for a dew point. */
export function ownDewPointDoubt(chip: AirChip): Doubt | null {
  const dew = chip.dew;
  const lastMs = dew?.atMs.at(-1);
  if (dew === null || lastMs === undefined) return null;
  let worst: Doubt | null = null;
  for (let index = dew.atMs.length - 1; index >= 0; index--) {
    const atMs = dew.atMs[index] as number;
    if (lastMs - atMs > LOOK_BACK_MS) break;
    const air = lastIndexAt(chip.air.atMs, atMs + PAIR_MS);
    const rh = lastIndexAt(chip.rh.atMs, atMs + PAIR_MS);
    const paired = [chip.air.atMs[air], chip.rh.atMs[rh]].every(
      (takenMs) => takenMs !== undefined && Math.abs(takenMs - atMs) <= PAIR_MS,
    );
    const rhPct = chip.rh.values[rh];
    const airC = chip.air.values[air];
    if (!paired || rhPct === undefined || airC === undefined || !(rhPct > 0)) continue;
    const said = dew.values[index] as number;
    const overWater = Math.abs(said - dewPointC(airC, Math.min(rhPct, 100)));
    const ours = dewPointC(airC, Math.min(rhPct, 100));
    const offK = ours < 0 ? Math.min(overWater, Math.abs(said - frostPointC(airC, Math.min(rhPct, 100)))) : overWater;
    if (offK > OWN_DEW_POINT_K && (worst === null || offK > worst.measured)) {
      worst = { probe: chip.name, kind: "own-dew-point", sinceMs: atMs, measured: offK, limit: OWN_DEW_POINT_K };
    }
  }
  return worst;
}
