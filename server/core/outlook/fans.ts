// What people see of an outlook: fans of quantiles.
import type { Fan, Outlook, OutlookMember } from "#core/outlook/outlook.ts";

/** People see every third step: half an hour. */
export const VIEW_STRIDE = 3;

/** 10, 50 and 90 % of one quantity of the members, at every `VIEW_STRIDE`th step. Sorts once a step. */
export function fanOf(outlook: Outlook, value: (member: OutlookMember, step: number) => number): Fan {
  const { members, steps } = outlook;
  const q10: number[] = [];
  const q50: number[] = [];
  const q90: number[] = [];
  const pairs = members.map((member) => ({ value: 0, weight: member.weight }));
  for (let step = 0; step < steps; step += VIEW_STRIDE) {
    for (const [index, member] of members.entries()) {
      const pair = pairs[index] as { value: number; weight: number };
      pair.value = value(member, step);
      pair.weight = member.weight;
    }
    pairs.sort((a, b) => a.value - b.value);
    let passed = 0;
    let low = Number.NaN;
    let middle = Number.NaN;
    let high = Number.NaN;
    for (const pair of pairs) {
      passed += pair.weight;
      if (Number.isNaN(low) && passed >= 0.1 - 1e-9) low = pair.value;
      if (Number.isNaN(middle) && passed >= 0.5 - 1e-9) middle = pair.value;
      if (Number.isNaN(high) && passed >= 0.9 - 1e-9) high = pair.value;
    }
    q10.push(low);
    q50.push(middle);
    q90.push(high);
  }
  return { q10, q50, q90 };
}
