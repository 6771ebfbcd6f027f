// A person holds the zone.
import { PASS, waits } from "#core/judge/rule.ts";

export const hold = waits("hold", {
  source: "design: a finding by a person outranks arithmetic",
  judge: ({ heldSinceMs }) => (heldSinceMs === null ? PASS : { outcome: "stop", sinceMs: heldSinceMs }),
});
