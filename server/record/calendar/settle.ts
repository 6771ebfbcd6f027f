// Holds what should stand against what was told before: the same events under the same names, raised where they change. Pure.
import type { EventFacts, KeptEvent } from "./ports.ts";

/** So long what no longer stands is told as cancelled, and what is past stays: programs ask once a day or less often. */
const KEPT_MS = 7 * 86_400_000;

const FACTS = ["zoneName", "startMs", "endMs", "earliestMs", "chance"] as const;
const same = (a: EventFacts, b: EventFacts) => FACTS.every((name) => a[name] === b[name]);

/** `uidOf` names an event by zone, coat and kind alone. */
export function settled(
  before: readonly KeptEvent[],
  wanted: readonly EventFacts[],
  uidOf: (facts: EventFacts) => string,
  nowMs: number,
): KeptEvent[] {
  const left = new Map(before.map((event) => [event.uid, event]));
  const events: KeptEvent[] = [];
  for (const facts of wanted) {
    const uid = uidOf(facts);
    const known = left.get(uid);
    left.delete(uid);
    // What was long over when it was first heard of is no appointment.
    if (known === undefined && facts.endMs < nowMs) continue;
    if (known === undefined) events.push({ ...facts, uid, sequence: 0, modifiedMs: nowMs, cancelledMs: null });
    else if (known.cancelledMs === null && same(known, facts)) events.push(known);
    else events.push({ ...known, ...facts, sequence: known.sequence + 1, modifiedMs: nowMs, cancelledMs: null });
  }
  for (const event of left.values()) {
    // What has begun took place as it stood.
    const isPast = event.startMs <= nowMs;
    if (event.cancelledMs === null && !isPast)
      events.push({ ...event, sequence: event.sequence + 1, modifiedMs: nowMs, cancelledMs: nowMs });
    else if (nowMs - (event.cancelledMs ?? event.endMs) < KEPT_MS) events.push(event);
  }
  return events.sort((a, b) => a.startMs - b.startMs || (a.uid < b.uid ? -1 : 1));
}
