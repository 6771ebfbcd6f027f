// What is on the floor is unknown, or a bare slab has no grinding on record.
import { PASS, waits } from "#core/judge/rule.ts";

export const recordMissing = waits("record-missing", {
  source: "design: what is not on record was not done",
  judge: ({ recordGap }) => (recordGap === null ? PASS : { outcome: "stop", detail: recordGap }),
});
