// Weighted quantiles of an ensemble.
import { placesIn, scratchFor } from "#core/outlook/select.ts";

function allSame(values: ArrayLike<number>): boolean {
  for (let index = 1; index < values.length; index++) if (values[index] !== values[0]) return false;
  return true;
}

/** For each share of `qs`, which ascend, the value at or below which that share of the weight lies; NaN without weight. */
export function weightedQuantiles(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  qs: readonly number[],
): number[] {
  const { length } = values;
  // Members of an ensemble all weigh the same: then places in their order say it all, and few of them are put in order.
  if (weights.length > 0 && allSame(weights)) {
    const places = qs.map((q) => Math.max(0, Math.ceil(q * length - 1e-9) - 1));
    const found = new Float64Array(places.length);
    placesIn(new Float64Array(values), 0, length, places, found, scratchFor(length));
    return Array.from(found);
  }
  const order = Array.from(values, (_, index) => index).sort((a, b) => (values[a] as number) - (values[b] as number));
  let total = 0;
  for (const index of order.keys()) total += weights[index] as number;
  return qs.map((q) => {
    let passed = 0;
    for (const index of order) {
      passed += weights[index] as number;
      if (passed >= q * total - 1e-12) return values[index] as number;
    }
    return Number.NaN;
  });
}

/** The same of one share. */
export function weightedQuantile(values: ArrayLike<number>, weights: ArrayLike<number>, q: number): number {
  return weightedQuantiles(values, weights, [q])[0] as number;
}
