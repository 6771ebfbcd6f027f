// What people see of an outlook: fans of quantiles.
import type { Fan, Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { placesIn, scratchFor } from "#core/outlook/select.ts";

/** People see every third step: half an hour. */
export const VIEW_STRIDE = 3;

const FAN = [0.1, 0.5, 0.9] as const;

/** Fills what a member is at every `VIEW_STRIDE`th step. */
type Fill = (member: OutlookMember, seen: Float64Array) => void;

function fanBy({ members, steps }: Outlook, fill: Fill): Fan {
  const count = Math.ceil(steps / VIEW_STRIDE);
  const seen = new Float64Array(count);
  // A row for each step: members are read along their courses, since across them each value lies far from the last.
  const rows = new Float64Array(count * members.length);
  for (let index = 0; index < members.length; index++) {
    fill(members[index] as OutlookMember, seen);
    for (let row = 0, to = index; row < count; row++, to += members.length) rows[to] = seen[row] as number;
  }
  const places = FAN.map((q) => Math.max(0, Math.ceil(q * members.length - 1e-9) - 1));
  const found = new Float64Array(places.length);
  const scratch = scratchFor(members.length);
  const q10: number[] = [];
  const q50: number[] = [];
  const q90: number[] = [];
  for (let row = 0; row < count; row++) {
    placesIn(rows, row * members.length, members.length, places, found, scratch);
    q10.push(found[0] as number);
    q50.push(found[1] as number);
    q90.push(found[2] as number);
  }
  return { q10, q50, q90 };
}

/** 10, 50 and 90 % of one quantity of the members, which all weigh the same, at every `VIEW_STRIDE`th step. */
export function fanOf(outlook: Outlook, value: (member: OutlookMember, step: number) => number): Fan {
  return fanBy(outlook, (member, seen) => {
    for (let row = 0; row < seen.length; row++) seen[row] = value(member, row * VIEW_STRIDE);
  });
}

type Quantity = Exclude<keyof OutlookMember, "weight">;

/** The same of a column of the members. */
export function fanOfColumn(outlook: Outlook, quantity: Quantity): Fan {
  return fanBy(outlook, (member, seen) => {
    const column = member[quantity];
    for (let row = 0; row < seen.length; row++) seen[row] = column[row * VIEW_STRIDE] as number;
  });
}

/** The same of the margin: slab minus dew point. */
export function marginFan(outlook: Outlook): Fan {
  return fanBy(outlook, ({ slabColdC, dewPointC }, seen) => {
    for (let row = 0; row < seen.length; row++) {
      const step = row * VIEW_STRIDE;
      seen[row] = (slabColdC[step] as number) - (dewPointC[step] as number);
    }
  });
}
