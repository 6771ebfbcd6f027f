// What should stand in the calendar of a site now: windows, hours to come back, hand-over. Pure.
import { msFromIso } from "#contract/primitives.ts";
import type { CalendarZone, EventFacts, EventKind } from "./ports.ts";

const MINUTE_MS = 60_000;
/** How long a moment is in a calendar. */
const MOMENT_MS = 30 * MINUTE_MS;
/** Times are foreseen anew every minute; a calendar follows in steps of this. */
const STEP_MS = 10 * MINUTE_MS;
const LONGEST_POUR_MS = 12 * 3_600_000;
/** The hand-over of the last coat, by use. */
const USES = ["walk-on", "traffic", "water"] as const;

const time = (iso: string | null | undefined): number | null =>
  iso === null || iso === undefined ? null : msFromIso(iso);
/** Never told earlier than foreseen where it opens, nor later where it closes. */
const later = (atMs: number) => Math.ceil(atMs / STEP_MS) * STEP_MS;
const sooner = (atMs: number) => Math.floor(atMs / STEP_MS) * STEP_MS;

export function wantedOf(zone: CalendarZone): EventFacts[] {
  const { call, handOver } = zone;
  const events: EventFacts[] = [];
  const coat = call.nextCoat ?? call.film?.coat ?? 0;
  const add = (kind: EventKind, startMs: number, endMs: number, more: Partial<EventFacts> = {}) =>
    events.push({
      ...{ zone: zone.id, zoneName: zone.name, coat, kind, startMs, endMs, earliestMs: null, chance: null },
      ...more,
    });
  const before = (kind: EventKind, atMs: number | null) => {
    if (atMs !== null) add(kind, sooner(atMs) - MOMENT_MS, sooner(atMs));
  };

  if (call.nextCoat !== null) {
    const opensMs = time(call.window.opensAt);
    if (opensMs !== null) add("opens", later(opensMs), later(opensMs) + MOMENT_MS);
    if (call.window.state !== "closed") before("closes", time(call.window.closesAt));
    if (call.call === "pour" && !call.pouring) before("start-by", time(call.pour?.latestStartAt));
    const { next } = call;
    if (next !== null && (next.call === "pour" || next.call === "abrade")) {
      const startMs = later(msFromIso(next.likely));
      const pourMs = Math.min(LONGEST_POUR_MS, (zone.areaM2 / zone.pourM2PerH) * 3_600_000);
      const lastsMs = next.call === "pour" ? Math.max(MOMENT_MS, later(pourMs)) : MOMENT_MS;
      const chance = Math.round(next.chance * 20) / 20;
      const earliestMs = later(msFromIso(next.earliest));
      add(next.call === "pour" ? "back" : "abrade", startMs, startMs + lastsMs, { earliestMs, chance });
    }
  }
  if (handOver?.film?.last === true)
    for (const { use, state, notBefore } of handOver.uses) {
      const kind = USES.find((one) => one === use);
      const atMs = time(notBefore);
      if (kind === undefined || state !== "ahead" || atMs === null) continue;
      add(kind, later(atMs), later(atMs) + MOMENT_MS, { coat: handOver.film.coat });
    }
  return events;
}
