// Values at given places of an order, without sorting all of them.

/** Values are dealt into so many equal parts of their range; a few of them share a part. */
const PARTS = 256;
/** Fewer than this are sorted as they are. */
const FEW = 40;

export interface Scratch {
  readonly sizes: Uint16Array;
  readonly parts: Uint8Array;
}
export const scratchFor = (count: number): Scratch => ({
  sizes: new Uint16Array(PARTS),
  parts: new Uint8Array(count),
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
  { sizes, parts }: Scratch,
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
  sizes.fill(0);
  for (let index = 0; index < count; index++) {
    // Never falls where the value rises, so parts keep the order.
    const part = (((values[from + index] as number) - least) * perUnit) | 0;
    parts[index] = part;
    sizes[part] = (sizes[part] as number) + 1;
  }
  let part = 0;
  let before = 0;
  for (let index = 0; index < places.length; index++) {
    const place = places[index] as number;
    while (before + (sizes[part] as number) <= place) before += sizes[part++] as number;
    found[index] = withinPart(values, from, count, parts, part, place - before);
  }
}

/** The value at a place among those of one part. */
function withinPart(
  values: Float64Array,
  from: number,
  count: number,
  parts: Uint8Array,
  part: number,
  place: number,
): number {
  const own: number[] = [];
  for (let index = 0; index < count; index++) {
    if (parts[index] !== part) continue;
    const value = values[from + index] as number;
    let at = own.length;
    own.push(value);
    for (; at > 0 && (own[at - 1] as number) > value; at--) own[at] = own[at - 1] as number;
    own[at] = value;
  }
  return own[place] as number;
}
