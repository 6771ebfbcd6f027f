// A humidity chip that reads low where its neighbour reads high: solvent vapour has poisoned it, or it is worn.
import { dewPointSlope } from "#core/air/dew-point.ts";
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import { lastIndexAt } from "#core/zone/heard.ts";
import { type AirChip, LEAST_PCT } from "#core/zone/probes.ts";
import { chipOffsets } from "#core/zone/silent.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/**
 * Dew points further apart than so many times what both chips state, and never less than this, at every pair of readings
 * of the stretch. Poisoning shows in damp air; in dry air two chips differ for many reasons. Common practice, no source.
 */
const APART = { ofStated: 1.3, leastK: 1.2, dampPct: 60 } as const;
/**
 * Or so much lower against its neighbour than ever from two days to one day ago, however the two differ: dew points of one
 * room move together. Common practice, no source.
 */
const LEFT = { byK: 0.8, dampPct: 50, pastEndsMs: 24 * 3_600_000 } as const;
const STRETCH_MS = 2 * 3_600_000;
const PAIRS = 4;
const FRESH_MS = 30 * 60_000;
const PAIR_MS = 10 * 60_000;

/** What a chip states, as K of dew point where it reads now. */
function statedK({ node, air, rh }: AirChip): number {
  const airC = keptWithin(air.values.at(-1) as number, TEMP_RANGE_C);
  const slope = dewPointSlope(airC, keptWithin(rh.values.at(-1) as number, { min: LEAST_PCT, max: 100 }));
  return Math.hypot(slope.kPerK * node.accuracy.airK, slope.kPerRhPct * node.accuracy.rhPct);
}

/** Least difference of dew points over the stretch, the neighbour's humidity high throughout; null where it does not hold. */
function lowBy(
  chip: AirChip,
  other: AirChip,
  { apartK, dampPct }: { readonly apartK: number; readonly dampPct: number },
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
    const lowK = (other.dewPoint.values[beside] as number) - (values[at] as number);
    if (damp < dampPct || lowK <= apartK) break;
    leastK = Math.min(leastK, lowK);
    sinceMs = takenMs;
    pairs++;
  }
  return pairs >= PAIRS && nowMs - sinceMs >= STRETCH_MS ? { leastK, sinceMs } : null;
}

type Low = Pick<Doubt, "sinceMs" | "measured" | "limit">;

/** How much lower it reads than its neighbour, if that is more than both can be off by. */
function apartFrom(chip: AirChip, other: AirChip, boundK: number, nowMs: number): Low[] {
  const apartK = Math.max(APART.leastK, APART.ofStated * boundK);
  const low = lowBy(chip, other, { apartK, dampPct: APART.dampPct }, nowMs);
  return low === null ? [] : [{ sinceMs: low.sinceMs, measured: low.leastK, limit: apartK }];
}

/** How much lower it reads against its neighbour than it ever did; none with less than half a day of past. */
function leftFrom(chip: AirChip, other: AirChip, nowMs: number): Low[] {
  const { atMs, values } = chip.dewPoint;
  const end = lastIndexAt(atMs, nowMs - LEFT.pastEndsMs) + 1;
  const past = chipOffsets({ atMs: atMs.slice(0, end), values: values.slice(0, end) }, other.dewPoint, nowMs);
  if (!past.enough) return [];
  const apartK = LEFT.byK - past.coldestK;
  const low = lowBy(chip, other, { apartK, dampPct: LEFT.dampPct }, nowMs);
  return low === null ? [] : [{ sinceMs: low.sinceMs, measured: low.leastK + past.coldestK, limit: LEFT.byK }];
}

/**
 * The dampest chip governs anyway; the doubt says that the drier one should not be left alone with the zone. One that is
 * the dampest still, and reads lower than it did, makes the margin less sure.
 */
export function readsLowDoubts(chips: readonly AirChip[], nowMs: number): Doubt[] {
  const fresh = chips
    .filter((chip) => nowMs - (chip.dewPoint.atMs.at(-1) ?? Number.NEGATIVE_INFINITY) <= FRESH_MS)
    .map((chip) => ({ chip, boundK: statedK(chip) }));
  return fresh.flatMap(({ chip, boundK }): Doubt[] => {
    const found = fresh.flatMap((other) =>
      other.chip === chip
        ? []
        : [
            ...apartFrom(chip, other.chip, Math.hypot(boundK, other.boundK), nowMs),
            ...leftFrom(chip, other.chip, nowMs),
          ],
    );
    const [first] = found.sort((a, b) => b.measured - a.measured);
    return first === undefined ? [] : [{ probe: `${chip.node.id}/rh`, kind: "reads-low", ...first }];
  });
}
