// What members of an ensemble weigh together: where all weigh the same, counting them does for adding them up.
import type { OutlookMember } from "#core/outlook/outlook.ts";

/**
 * What none, one, two and so on of the members weigh together, added up one by one: so a chance comes out to the last bit
 * as if it were added up member by member. null where they do not all weigh the same.
 */
export function weightSums(members: readonly OutlookMember[]): Float64Array | null {
  const { length } = members;
  const weight = members[0]?.weight ?? 0;
  const sums = new Float64Array(length + 1);
  for (let count = 1; count <= length; count++) {
    if ((members[count - 1] as OutlookMember).weight !== weight) return null;
    sums[count] = (sums[count - 1] as number) + weight;
  }
  return sums;
}
