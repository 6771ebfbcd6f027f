// An air probe struck by sun or heated by its own board: too warm and too dry beside a neighbour, its dew point right.
import { dewPointC } from "#core/air/dew-point.ts";
import type { AirChip } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

const FRESH_MS = 30 * 60_000;
/** Air this much warmer than a neighbour's, with the same dew point: sun or self-heating. */
const WARMER_K = 3;
const SAME_DEW_K = 1;

/** Chips whose air stands well above a neighbour's while the dew points agree. */
export function sunStruckDoubts(chips: readonly AirChip[], nowMs: number): Doubt[] {
  const fresh = chips.flatMap((chip) => {
    const airC = chip.air.values.at(-1);
    const rhPct = chip.rh.values.at(-1);
    const takenMs = chip.air.atMs.at(-1);
    if (
      airC === undefined ||
      rhPct === undefined ||
      takenMs === undefined ||
      !(rhPct > 0) ||
      nowMs - takenMs > FRESH_MS
    )
      return [];
    return [{ chip, airC, dewC: dewPointC(airC, Math.min(rhPct, 100)), takenMs }];
  });
  return fresh.flatMap((item) => {
    const cooler = fresh.find(
      (other) => item.airC - other.airC > WARMER_K && Math.abs(item.dewC - other.dewC) <= SAME_DEW_K,
    );
    return cooler === undefined
      ? []
      : [
          {
            probe: item.chip.name,
            kind: "sun-struck" as const,
            sinceMs: item.takenMs,
            measured: item.airC - cooler.airC,
            limit: WARMER_K,
          },
        ];
  });
}
