// What people see of an outlook: fans of quantiles.
import type { Fan, Outlook, OutlookMember } from "#core/outlook/outlook.ts";

/** People see every third step: half an hour. */
export const VIEW_STRIDE = 3;

/** 10, 50 and 90 % of one quantity of the members, which all weigh the same, at every `VIEW_STRIDE`th step. */
export function fanOf(outlook: Outlook, value: (member: OutlookMember, step: number) => number): Fan {
  const { members, steps } = outlook;
  const q10: number[] = [];
  const q50: number[] = [];
  const q90: number[] = [];
  const sorted = new Float64Array(members.length);
  const place = (q: number) => Math.max(0, Math.ceil(q * members.length - 1e-9) - 1);
  const [low, middle, high] = [place(0.1), place(0.5), place(0.9)];
  for (let step = 0; step < steps; step += VIEW_STRIDE) {
    for (let index = 0; index < members.length; index++) sorted[index] = value(members[index] as OutlookMember, step);
    sorted.sort();
    q10.push(sorted[low] as number);
    q50.push(sorted[middle] as number);
    q90.push(sorted[high] as number);
  }
  return { q10, q50, q90 };
}
