// Order statistics of what was measured.

/** Smallest value that at least `share` (0..1) of the values do not exceed. Throws RangeError without values. */
export function quantile(values: readonly number[], share: number): number {
  const ascending = [...values].sort((a, b) => a - b);
  const found = ascending[Math.max(0, Math.ceil(share * ascending.length) - 1)];
  if (found === undefined) throw new RangeError("nothing was measured");
  return found;
}

export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

/** Three figures, without an exponent for sizes that people read. */
export function shown(value: number): string {
  if (value === 0) return "0";
  const digits = Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))));
  return value.toLocaleString("en", { maximumFractionDigits: digits, useGrouping: true });
}

/** Smallest and largest of several rounds; empty for one. */
export function rangeText(values: readonly number[]): string {
  return values.length < 2 ? "" : `${shown(Math.min(...values))} to ${shown(Math.max(...values))}`;
}
