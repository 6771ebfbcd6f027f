// Values at given places of an order, without sorting all of them.

/** Values are dealt into so many equal parts of their range; a few of them share a part. */
const PARTS = 256;
/** Fewer than this are sorted as they are. */
const FEW = 40;

export interface Scratch {
  /** Where each part begins among the values as they are dealt. */
  readonly begins: Uint32Array;
  readonly parts: Uint8Array;
  readonly dealt: Float64Array;
}
export const scratchFor = (count: number): Scratch => ({
  begins: new Uint32Array(PARTS + 1),
  parts: new Uint8Array(count),
  dealt: new Float64Array(count),
});

/**
 * Writes into `found` what would stand at each of `places`, which ascend, if the `count` values from `from` on were
 * sorted: exactly the values that sorting gives. Grows with their number, where sorting asks for its logarithm more.
 */
export function placesIn(
  values: Float64Array,
  from: number,
  count: number,
  places: readonly number[],
  found: Float64Array,
  { begins, parts, dealt }: Scratch,
): void {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < count; index++) {
    const value = values[from + index] as number;
    // These let through what is no number.
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  const perUnit = (PARTS - 1) / (most - least);
  if (count < FEW || !(perUnit > 0 && perUnit < Number.POSITIVE_INFINITY)) {
    const sorted = values.slice(from, from + count).sort();
    for (let index = 0; index < places.length; index++) found[index] = sorted[places[index] as number] as number;
    return;
  }
  begins.fill(0);
  for (let index = 0; index < count; index++) {
    // Never falls where the value rises, so parts keep the order.
    const part = (((values[from + index] as number) - least) * perUnit) | 0;
    parts[index] = part;
    begins[part + 1] = (begins[part + 1] as number) + 1;
  }
  for (let part = 1; part <= PARTS; part++) begins[part] = (begins[part] as number) + (begins[part - 1] as number);
  for (let index = count - 1; index >= 0; index--) {
    // Counted down from where the next part begins to where its own does.
    const part = (parts[index] as number) + 1;
    const at = (begins[part] as number) - 1;
    begins[part] = at;
    dealt[at] = values[from + index] as number;
  }
  // Each part now begins one place later in the list than it did.
  let part = 1;
  for (let index = 0; index < places.length; index++) {
    const place = places[index] as number;
    while (part < PARTS && (begins[part + 1] as number) <= place) part++;
    const end = part < PARTS ? (begins[part + 1] as number) : count;
    order(dealt, begins[part] as number, end);
    found[index] = dealt[place] as number;
  }
}

/** Sorts a few values in place. */
function order(values: Float64Array, from: number, end: number): void {
  for (let index = from + 1; index < end; index++) {
    const value = values[index] as number;
    let at = index;
    for (; at > from && (values[at - 1] as number) > value; at--) values[at] = values[at - 1] as number;
    values[at] = value;
  }
}
