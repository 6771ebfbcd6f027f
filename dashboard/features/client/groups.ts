// Floors of which the same is to be said are said together, so that a client reads it once. Pure.
import type { ClientPageBody } from "#contract/access.ts";

export type Floor = ClientPageBody["zones"][number];
export type Floors = readonly [Floor, ...Floor[]];

/** In the order of the first of each group. A floor with dates of its own stands alone. */
export function groupsOf(floors: readonly Floor[]): readonly Floors[] {
  const groups = new Map<string, [Floor, ...Floor[]]>();
  for (const floor of floors) {
    const key = floor.floor === "last-coat" ? `floor ${floor.zone}` : `${floor.floor} ${floor.leave.join(" ")}`;
    const known = groups.get(key);
    if (known === undefined) groups.set(key, [floor]);
    else known.push(floor);
  }
  return [...groups.values()];
}
