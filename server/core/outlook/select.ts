// Values at given places of an order, without sorting all of them.

/** The range of the values is cut into so many equal parts; a few of them share a part. */
const PARTS = 64;
/** Fewer than this are sorted as they are. */
const FEW = 40;

export interface Scratch {
  /** How many values lie in each part, the last of them, and for each value the one before it in its part; -1 = none. */
  readonly counts: Int32Array;
  readonly lasts: Int32Array;
  readonly befores: Int32Array;
  /** The values of one part. */
  readonly shared: Float64Array;
}
export const scratchFor = (count: number): Scratch => ({
  counts: new Int32Array(PARTS),
  lasts: new Int32Array(PARTS),
  befores: new Int32Array(count),
  shared: new Float64Array(count),
});

/**
 * Writes into `found` what would stand at each of `places`, which ascend, if the `count` values from `from` on were
 * sorted: exactly the values that sorting gives. Only the parts in which these lie are sorted.
 */
export function placesIn(
  values: Float64Array,
  from: number,
  count: number,
  places: readonly number[],
  found: Float64Array,
  { counts, lasts, befores, shared }: Scratch,
): void {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  // Not a number as soon as one of them is not; comparisons pass that over. Two sums, since each addition waits for the last.
  let sum = 0;
  let otherSum = 0;
  for (let index = 0; index < count; index += 2) {
    const value = values[from + index] as number;
    const other = values[from + Math.min(index + 1, count - 1)] as number;
    if (value < least) least = value;
    if (value > most) most = value;
    if (other < least) least = other;
    if (other > most) most = other;
    sum += value;
    otherSum += other;
  }
  const perUnit = (PARTS - 1) / (most - least);
  if (count < FEW || Number.isNaN(sum + otherSum) || !(perUnit > 0 && perUnit < Number.POSITIVE_INFINITY)) {
    const sorted = values.slice(from, from + count).sort();
    for (let index = 0; index < places.length; index++) found[index] = sorted[places[index] as number] as number;
    return;
  }
  counts.fill(0);
  lasts.fill(-1);
  for (let index = 0; index < count; index++) {
    // Never falls where the value rises, so parts keep the order.
    const part = (((values[from + index] as number) - least) * perUnit) | 0;
    counts[part] = (counts[part] as number) + 1;
    befores[index] = lasts[part] as number;
    lasts[part] = index;
  }
  let part = 0;
  let before = 0;
  let gathered = -1;
  for (let index = 0; index < places.length; index++) {
    const place = places[index] as number;
    while (before + (counts[part] as number) <= place) before += counts[part++] as number;
    if (gathered !== part) {
      let end = 0;
      for (let at = lasts[part] as number; at >= 0; at = befores[at] as number)
        shared[end++] = values[from + at] as number;
      order(shared, end);
      gathered = part;
    }
    found[index] = shared[place - before] as number;
  }
}

/** Sorts the first few values in place. */
function order(values: Float64Array, end: number): void {
  for (let index = 1; index < end; index++) {
    const value = values[index] as number;
    let at = index;
    for (; at > 0 && (values[at - 1] as number) > value; at--) values[at] = values[at - 1] as number;
    values[at] = value;
  }
}
