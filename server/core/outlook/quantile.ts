// Weighted quantiles of an ensemble.

/** The value at or below which a share `q` of the weight lies; NaN without weight. */
export function weightedQuantile(values: readonly number[], weights: readonly number[], q: number): number {
  const order = values.map((_, index) => index).sort((a, b) => (values[a] as number) - (values[b] as number));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  let passed = 0;
  for (const index of order) {
    passed += weights[index] as number;
    if (passed >= q * total - 1e-12) return values[index] as number;
  }
  return Number.NaN;
}
