// The dice of the ensemble: drawn once from a fixed seed, so that the same night always gives the same outlook and two
// outlooks that follow each other differ by what was heard, not by luck.

/** Members of an ensemble. */
// Every member weighs the same.
export const MEMBERS = 200;
/** Ten-minute steps of a member: 72 h, so that the night of a pour a day and a half from now can be judged as well. */
export const MEMBER_STEPS = 432;
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

/** Quantities that wander, in the order in which they stand in `WANDERS`. */
export const DEW_AT = 0;
export const AIR_AT = 1;
/** What neither weather nor model explains: doors, sun, people. */
export const SLAB_AT = 2;
export const ROOM_AT = 3;
export const WANDERING = 4;

/** Members that are drawn; the others mirror them, so that the middle of the ensemble is not moved by chance. */
export const DRAWN = MEMBERS / 2;

/** Fills one quantity: it wanders with variance 1 - exp(-2 t / memory), from 0 now to a standard deviation of 1. */
function wander(
  into: Float64Array,
  place: number,
  kind: number,
  memoryH: number,
  along: { readonly share: number; readonly kind: number },
): void {
  const keep = Math.exp(-STEP_H / memoryH);
  const kick = Math.sqrt(1 - keep * keep);
  const own = Math.sqrt(1 - along.share * along.share);
  for (let member = 0; member < DRAWN; member++) {
    let value = 0;
    for (let step = 0; step < MEMBER_STEPS; step++) {
      const index = member * MEMBER_STEPS + step;
      into[WANDERING * index + place] = value;
      const common = along.share === 0 ? 0 : along.share * bell(along.kind, index);
      value = keep * value + kick * (common + own * bell(kind, index));
    }
  }
}

/** Memory of the weather, hours: how long air and dew point outdoors stay what they are. Fitted on a year of hourly reports. */
export const AIR_MEMORY_H = 15;
export const DEW_MEMORY_H = 36;
/** Warm air brings its water: common share of what moves air and dew point. */
const TOGETHER = 0.55;

function wanders(): Float64Array {
  const all = new Float64Array(WANDERING * DRAWN * MEMBER_STEPS);
  wander(all, DEW_AT, 1, DEW_MEMORY_H, { share: 0, kind: 1 });
  wander(all, AIR_AT, 2, AIR_MEMORY_H, { share: TOGETHER, kind: 1 });
  wander(all, SLAB_AT, 3, 24, { share: 0, kind: 1 });
  wander(all, ROOM_AT, 4, 8, { share: 0, kind: 1 });
  return all;
}

/** Row-major: member drawn, step, quantity. What one step needs lies together, since a judging reads all of it. */
export const WANDERS = wanders();
