// What people see of an outlook: fans of quantiles.
import type { Fan, Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { placesIn, scratchFor } from "#core/outlook/select.ts";

/** People see every third step: half an hour. */
export const VIEW_STRIDE = 3;

const FAN = [0.1, 0.5, 0.9] as const;

const rowsOf = ({ steps }: Outlook) => Math.ceil(steps / VIEW_STRIDE);

/**
 * `values` holds, from `begin` on, a row for each step that is seen, in it the members. Whoever fills it reads members along
 * their courses, since across them each value lies far from the last.
 */
function fanOfRows(values: Float64Array, begin: number, outlook: Outlook): Fan {
  const { length } = outlook.members;
  const places = FAN.map((q) => Math.max(0, Math.ceil(q * length - 1e-9) - 1));
  const found = new Float64Array(places.length);
  const scratch = scratchFor(length);
  const q10: number[] = [];
  const q50: number[] = [];
  const q90: number[] = [];
  for (let row = 0; row < rowsOf(outlook); row++) {
    placesIn(values, begin + row * length, length, places, found, scratch);
    q10.push(found[0] as number);
    q50.push(found[1] as number);
    q90.push(found[2] as number);
  }
  return { q10, q50, q90 };
}

/** 10, 50 and 90 % of one quantity of the members, which all weigh the same, at every `VIEW_STRIDE`th step. */
export function fanOf(outlook: Outlook, value: (member: OutlookMember, step: number) => number): Fan {
  const { members } = outlook;
  const values = new Float64Array(rowsOf(outlook) * members.length);
  for (const [index, member] of members.entries())
    for (let to = index, step = 0; to < values.length; to += members.length, step += VIEW_STRIDE)
      values[to] = value(member, step);
  return fanOfRows(values, 0, outlook);
}

export interface Fans {
  /** Slab minus dew point. */
  readonly marginK: Fan;
  readonly slabColdC: Fan;
  readonly airC: Fan;
  readonly dewPointC: Fan;
}

/** The same of all that people see, in one walk through the members: they lie far away, to read them is half of the work. */
export function fansOf(outlook: Outlook): Fans {
  const { members } = outlook;
  const count = rowsOf(outlook) * members.length;
  const values = new Float64Array(4 * count);
  const [coldAt, airAt, dewAt] = [count, 2 * count, 3 * count];
  for (let index = 0; index < members.length; index++) {
    const { slabColdC, airC, dewPointC } = members[index] as OutlookMember;
    for (let to = index, step = 0; to < count; to += members.length, step += VIEW_STRIDE) {
      const coldC = slabColdC[step] as number;
      const dewC = dewPointC[step] as number;
      values[to] = coldC - dewC;
      values[coldAt + to] = coldC;
      values[airAt + to] = airC[step] as number;
      values[dewAt + to] = dewC;
    }
  }
  return {
    marginK: fanOfRows(values, 0, outlook),
    slabColdC: fanOfRows(values, coldAt, outlook),
    airC: fanOfRows(values, airAt, outlook),
    dewPointC: fanOfRows(values, dewAt, outlook),
  };
}
