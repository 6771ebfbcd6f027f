// Under whose name something is written.
import type { Who } from "#contract/access.ts";
import { Refused } from "./refused.ts";

/**
 * With accounts the session says who wrote; another name in the body is refused and not replaced: an entry that one
 * person wrote on a shared phone must not go out under the name of the next.
 */
export function writtenBy(who: Who | null, by: string | null | undefined, field = "/by"): string | null {
  const own = who?.name ?? null;
  if (own === null) return by ?? null;
  if (by === null || by === undefined || by === own) return own;
  throw new Refused(422, "in the body", [{ field, reason: `is "${by}", and "${own}" is signed in` }]);
}
