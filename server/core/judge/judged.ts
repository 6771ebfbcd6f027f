// What judging a zone gives: the call, what people see of the night ahead, and the margin limit of the strip.
import type { Call } from "#core/judge/call.ts";
import type { Again } from "#core/judge/look-again.ts";
import type { Watch } from "#core/judge/watch.ts";
import type { NightView } from "#core/outlook/outlook.ts";
import type { Timeline } from "#core/zone/timeline.ts";

export interface Judged {
  readonly call: Call;
  /** null without an outlook (too little data, no feed, nothing typed). */
  readonly view: NightView | null;
  /** Dew margin limit that governs now: of the film while it is dew-sensitive, else of the next coat; K. */
  readonly marginLimitK: number | null;
  /** null when the zone could not be judged. */
  readonly watch: Watch | null;
  /** For looking at the zone again when something is heard; absent where nobody asked, null where it must be judged. */
  readonly again?: Again | null;
  /** What the zone was judged by, for whoever draws its past at once; not to be held. Absent where `again` is. */
  readonly line?: Timeline;
}
