// A cure curve laid out in steps of a twentieth of a degree, for outlooks that read it a hundred thousand times.
import type { CureCurve } from "#core/cure/curve.ts";

const FROM_C = -20;
const TO_C = 60;
const PER_K = 20;

/** The last place of a table. */
const LAST = (TO_C - FROM_C) * PER_K;

/** Share earned an hour, 1/h, from -20 to 60 °C: at each place what is earned there, and how much more at the next one. */
export type RateTable = Float64Array;

/** The table of a curve; 0 where the curve earns nothing. */
export function rateTable(curve: CureCurve): RateTable {
  const table = new Float64Array(2 * (LAST + 1));
  const [fromC, toC] = curve.bends;
  const coldRate = 1 / curve.hours(FROM_C);
  const hotRate = 1 / curve.hours(TO_C);
  let next = hotRate;
  table[2 * LAST] = next;
  for (let place = LAST - 1; place >= 0; place--) {
    const slabC = FROM_C + place / PER_K;
    const rate = slabC < fromC ? coldRate : slabC > toC ? hotRate : 1 / curve.hours(slabC);
    table[2 * place] = rate;
    // Nothing is earned up to the place at which something is.
    table[2 * place + 1] = rate === 0 ? 0 : next - rate;
    next = rate;
  }
  return table;
}

/**
 * Share earned an hour at a temperature, 1/h, straight between the steps: within 0.01 % of the curve, except in the
 * twentieth of a degree in which a curve begins to earn, where it stays below. Beyond the table its ends are held.
 */
export function rateAt(table: RateTable, slabC: number): number {
  const place = (slabC - FROM_C) * PER_K;
  if (!(place > 0)) return table[0] as number;
  if (place >= LAST) return table[2 * LAST] as number;
  const low = place | 0;
  const at = low << 1;
  return (table[at] as number) + (table[at | 1] as number) * (place - low);
}
