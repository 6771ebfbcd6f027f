// The least and the greatest of what was said.

export interface Extremes {
  readonly lowest: number;
  readonly highest: number;
}

/** Infinite the wrong way round where there are no values. */
export function extremesOf(values: readonly number[]): Extremes {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < values.length; index++) {
    const value = values[index] as number;
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  }
  return { lowest, highest };
}
