// Weighted quantiles of an ensemble.

function allSame(values: readonly number[]): boolean {
  for (let index = 1; index < values.length; index++) if (values[index] !== values[0]) return false;
  return true;
}

/** For each share of `qs` the value at or below which that share of the weight lies; NaN without weight. */
export function weightedQuantiles(
  values: readonly number[],
  weights: readonly number[],
  qs: readonly number[],
): number[] {
  // Members of an ensemble all weigh the same: numbers sort much faster than their places.
  if (weights.length > 0 && allSame(weights)) {
    const sorted = new Float64Array(values).sort();
    return qs.map((q) => sorted[Math.max(0, Math.ceil(q * sorted.length - 1e-9) - 1)] as number);
  }
  const order = values.map((_, index) => index).sort((a, b) => (values[a] as number) - (values[b] as number));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
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
export function weightedQuantile(values: readonly number[], weights: readonly number[], q: number): number {
  return weightedQuantiles(values, weights, [q])[0] as number;
}
