// A humidity chip that reads low where its neighbour reads high: solvent vapour has poisoned it, or it is worn.
import { lastIndexAt } from "#core/zone/heard.ts";
import type { AirChip } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** Dew points further apart than this, at every pair of readings of the stretch. Common practice, no source. */
const APART_K = 2;
const STRETCH_MS = 2 * 3_600_000;
const PAIRS = 4;
/** Poisoning shows in damp air; in dry air two chips differ for many reasons. */
const DAMP_PCT = 60;
const FRESH_MS = 30 * 60_000;
const PAIR_MS = 10 * 60_000;

/** Least difference of dew points over the stretch, the neighbour's humidity high throughout; null where it does not hold. */
function lowBy(
  chip: AirChip,
  other: AirChip,
  nowMs: number,
): { readonly leastK: number; readonly sinceMs: number } | null {
  const { atMs, values } = chip.dewPoint;
  let leastK = Number.POSITIVE_INFINITY;
  let sinceMs = nowMs;
  let pairs = 0;
  for (let at = atMs.length - 1; at >= 0; at--) {
    const takenMs = atMs[at] as number;
    const beside = lastIndexAt(other.dewPoint.atMs, takenMs);
    if (beside < 0 || takenMs - (other.dewPoint.atMs[beside] as number) > PAIR_MS) continue;
    const damp = other.rh.values[lastIndexAt(other.rh.atMs, takenMs)] ?? 0;
    const apartK = (other.dewPoint.values[beside] as number) - (values[at] as number);
    if (damp < DAMP_PCT || apartK <= APART_K) break;
    leastK = Math.min(leastK, apartK);
    sinceMs = takenMs;
    pairs++;
  }
  return pairs >= PAIRS && nowMs - sinceMs >= STRETCH_MS ? { leastK, sinceMs } : null;
}

/** The dampest chip governs anyway; the doubt says that the drier one should not be left alone with the zone. */
export function readsLowDoubts(chips: readonly AirChip[], nowMs: number): Doubt[] {
  const fresh = chips.filter((chip) => nowMs - (chip.dewPoint.atMs.at(-1) ?? Number.NEGATIVE_INFINITY) <= FRESH_MS);
  return fresh.flatMap((chip) => {
    const found = fresh.flatMap((other) => (other === chip ? [] : (lowBy(chip, other, nowMs) ?? [])));
    const [first] = found.sort((a, b) => b.leastK - a.leastK);
    return first === undefined
      ? []
      : [
          {
            probe: `${chip.node.id}/rh`,
            kind: "reads-low" as const,
            sinceMs: first.sinceMs,
            measured: first.leastK,
            limit: APART_K,
          },
        ];
  });
}
