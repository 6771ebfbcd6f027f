// Fewer members for questions that judge an outlook many times: one for each layer of lowest margin.
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";

/** Lowest margin of a member within so many steps, K. */
export function lowestMarginK({ slabColdC, dewPointC }: OutlookMember, steps: number): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (let step = 0; step < steps; step++)
    lowest = Math.min(lowest, (slabColdC[step] as number) - (dewPointC[step] as number));
  return lowest;
}

/**
 * At most `most` members of equal weight, picked by layers of their lowest margin: the middle of each layer of belief
 * speaks for it. An outlook that is small enough is given back as it is.
 */
export function thinned(outlook: Outlook, most: number): Outlook {
  if (outlook.members.length <= most) return outlook;
  const order = outlook.members
    .map((member) => ({ member, lowK: lowestMarginK(member, outlook.steps) }))
    .sort((a, b) => a.lowK - b.lowK);
  const total = order.reduce((sum, { member }) => sum + member.weight, 0);
  const members: OutlookMember[] = [];
  let passed = 0;
  for (const { member } of order) {
    passed += member.weight;
    // A heavy member may be the middle of several layers.
    while (members.length < most && passed >= ((members.length + 0.5) / most) * total - 1e-12)
      members.push({ ...member, weight: 1 / most });
  }
  return { ...outlook, members };
}
