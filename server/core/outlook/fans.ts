// What people see of an outlook: fans of quantiles.
import type { Fan, Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { placesIn, scratchFor } from "#core/outlook/select.ts";

/** People see every third step: half an hour. */
export const VIEW_STRIDE = 3;

const FAN = [0.1, 0.5, 0.9] as const;

const rowsOf = ({ steps }: Outlook) => Math.ceil(steps / VIEW_STRIDE);

/**
 * `values` holds a row for each step that is seen, in it the members. Whoever fills it reads members along their courses,
 * since across them each value lies far from the last.
 */
function fanOfRows(values: Float64Array, { length }: Outlook["members"]): Fan {
  const places = FAN.map((q) => Math.max(0, Math.ceil(q * length - 1e-9) - 1));
  const found = new Float64Array(places.length);
  const scratch = scratchFor(length);
  const q10: number[] = [];
  const q50: number[] = [];
  const q90: number[] = [];
  for (let from = 0; from < values.length; from += length) {
    placesIn(values, from, length, places, found, scratch);
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
  return fanOfRows(values, members);
}

type Quantity = Exclude<keyof OutlookMember, "weight">;

/** The same of a column of the members. */
export function fanOfColumn(outlook: Outlook, quantity: Quantity): Fan {
  const { members } = outlook;
  const values = new Float64Array(rowsOf(outlook) * members.length);
  for (let index = 0; index < members.length; index++) {
    const column = (members[index] as OutlookMember)[quantity];
    for (let to = index, step = 0; to < values.length; to += members.length, step += VIEW_STRIDE)
      values[to] = column[step] as number;
  }
  return fanOfRows(values, members);
}

/** The same of the margin: slab minus dew point. */
export function marginFan(outlook: Outlook): Fan {
  const { members } = outlook;
  const values = new Float64Array(rowsOf(outlook) * members.length);
  for (let index = 0; index < members.length; index++) {
    const { slabColdC, dewPointC } = members[index] as OutlookMember;
    for (let to = index, step = 0; to < values.length; to += members.length, step += VIEW_STRIDE)
      values[to] = (slabColdC[step] as number) - (dewPointC[step] as number);
  }
  return fanOfRows(values, members);
}
