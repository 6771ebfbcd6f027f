// Solvent was used in the zone: for two days its humidity chips may read too dry where it is damp.
import { dewPointSlope } from "#core/air/dew-point.ts";
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import type { AirChip } from "#core/zone/probes.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import { saltChecksOf } from "#core/zone/salt-check.ts";
import type { Opinion } from "#core/zone/second-opinion.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

const HOUR_MS = 3_600_000;
/** Vapour soaks into a chip within hours and leaves it within days. Common practice, no source. */
const STANDS_MS = 48 * HOUR_MS;
/** A meter that agrees sooner than this after the solvent says nothing of what is still to come. Common practice, no source. */
const SOAKS_MS = 4 * HOUR_MS;
/** What it may lose at 90 %RH, and the humidity from which it loses nothing; between them in proportion. Common practice, no source. */
const LOSS_PCT = 8;
const DRY_PCT = 30;
const WET_PCT = 90;

/** How much too low the chip's dew point may be, K. */
function mayLoseK({ air, rh }: AirChip): number {
  const airC = air.values.at(-1);
  const rhPct = rh.values.at(-1);
  if (airC === undefined || rhPct === undefined || !(rhPct > DRY_PCT)) return 0;
  const dampPct = Math.min(rhPct, 100);
  const lossPct = LOSS_PCT * Math.min(1, (dampPct - DRY_PCT) / (WET_PCT - DRY_PCT));
  return lossPct * dewPointSlope(keptWithin(airC, TEMP_RANGE_C), dampPct).kPerRhPct;
}

/** A doubt for each chip until a hand reading agrees with it, or a salt check finds it as good as it states. */
export function solventDoubts(
  chips: readonly AirChip[],
  record: Pick<ZoneRecord, "solvents" | "saltChecked">,
  opinions: readonly Opinion[],
  nowMs: number,
): Doubt[] {
  const sinceMs = record.solvents.filter((atMs) => atMs <= nowMs).at(-1);
  if (sinceMs === undefined || nowMs - sinceMs > STANDS_MS) return [];
  const checks = saltChecksOf(record);
  return chips.flatMap((chip): Doubt[] => {
    const agreed = opinions.some(
      ({ probe, of, within, atMs }) => probe === chip.name && of === "dew" && within && atMs >= sinceMs + SOAKS_MS,
    );
    const checked = checks.some(
      ({ node, valid, errorPct, salt, atMs }) =>
        node === chip.node.id &&
        valid &&
        salt === "sodium-chloride" &&
        atMs > sinceMs &&
        Math.abs(errorPct) <= chip.node.accuracy.rhPct,
    );
    const measured = mayLoseK(chip);
    return agreed || checked || measured === 0
      ? []
      : [{ probe: chip.name, kind: "solvent", sinceMs, measured, limit: 0 }];
  });
}
