// A course: one way in which the coming hours may go, before it is spread.

export interface Course {
  readonly weight: number;
  /** How much wider than usual this course is to be spread. */
  readonly wide: number;
  readonly slabColdC: Float64Array;
  readonly slabHotC: Float64Array;
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
}

/** Values now, where every course begins. */
export interface Start {
  readonly slabColdC: number;
  readonly slabHotC: number;
  readonly airC: number;
  readonly dewPointC: number;
}

export const QUANTITIES = ["slabColdC", "slabHotC", "airC", "dewPointC"] as const;
export type Quantity = (typeof QUANTITIES)[number];

/** A course from a function of quantity and step. */
export function courseOf(
  weight: number,
  wide: number,
  steps: number,
  at: (quantity: Quantity, step: number) => number,
): Course {
  const column = (quantity: Quantity) => {
    const out = new Float64Array(steps);
    for (let step = 0; step < steps; step++) out[step] = at(quantity, step);
    return out;
  };
  return {
    weight,
    wide,
    slabColdC: column("slabColdC"),
    slabHotC: column("slabHotC"),
    airC: column("airC"),
    dewPointC: column("dewPointC"),
  };
}
