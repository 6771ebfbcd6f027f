// The dice of the ensemble: drawn once from a fixed seed, so that the same night always gives the same outlook and two
// outlooks that follow each other differ by what was heard, not by luck.

import { MEMBER_STEPS, TAKEN, TAKEN_END } from "#core/outlook/steps-ahead.ts";

/** Members of an ensemble. */
// Every member weighs the same.
export const MEMBERS = 200;
const STEP_H = 1 / 6;

/** Even numbers in (0, 1) by the Weyl sequence of a hash; a function of its two arguments alone. */
function even(kind: number, index: number): number {
  let bits = (Math.imul(kind + 1, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca6b)) | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x7feb352d);
  bits = Math.imul(bits ^ (bits >>> 15), 0x846ca68b);
  return (((bits ^ (bits >>> 16)) >>> 0) + 0.5) / 2 ** 32;
}

function bell(kind: number, index: number): number {
  return Math.sqrt(-2 * Math.log(even(kind, 2 * index))) * Math.cos(2 * Math.PI * even(kind, 2 * index + 1));
}

/** One even number a member, one in each of `count` equal parts of (0, 1): a Latin hypercube, one column a `kind`. */
export function latin(kind: number, count: number): Float64Array {
  const order = Array.from({ length: count }, (_, index) => index).sort(
    (a, b) => even(kind + 100, a) - even(kind + 100, b),
  );
  return Float64Array.from(order, (place, index) => (place + even(kind + 200, index)) / count);
}

/** Members that are drawn; the others mirror them, so that the middle of the ensemble is not moved by chance. */
export const DRAWN = MEMBERS / 2;

/**
 * One quantity of all drawn members, row by row at the steps that are taken: it wanders with variance 1 - exp(-2 t / memory),
 * from 0 now to a standard deviation of 1.
 */
function wander(
  kind: number,
  memoryH: number,
  along: { readonly share: number; readonly kind: number } = { share: 0, kind: 1 },
): Float64Array {
  const rows = new Float64Array(DRAWN * TAKEN_END);
  const keep = Math.exp(-STEP_H / memoryH);
  const kick = Math.sqrt(1 - keep * keep);
  const own = Math.sqrt(1 - along.share * along.share);
  const course = new Float64Array(MEMBER_STEPS);
  for (let member = 0; member < DRAWN; member++) {
    let value = 0;
    for (let step = 0; step < MEMBER_STEPS; step++) {
      const index = member * MEMBER_STEPS + step;
      course[step] = value;
      const common = along.share === 0 ? 0 : along.share * bell(along.kind, index);
      value = keep * value + kick * (common + own * bell(kind, index));
    }
    for (let place = 0; place < TAKEN_END; place++)
      rows[member * TAKEN_END + place] = course[TAKEN[place] as number] as number;
  }
  return rows;
}

/** Memory of the weather, hours: how long air and dew point outdoors stay what they are. Fitted on a year of hourly reports. */
export const AIR_MEMORY_H = 15;
export const DEW_MEMORY_H = 36;
/** Warm air brings its water: common share of what moves air and dew point. */
const TOGETHER = 0.55;

/** What wanders; row `member` of each begins at `member * TAKEN_END`. */
export const WANDERS = {
  dew: wander(1, DEW_MEMORY_H),
  air: wander(2, AIR_MEMORY_H, { share: TOGETHER, kind: 1 }),
  /** What neither weather nor model explains: doors, sun, people. */
  slab: wander(3, 24),
  room: wander(4, 8),
};
