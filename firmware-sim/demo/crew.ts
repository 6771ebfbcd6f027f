// The crew of a time-lapse: writes into the journal what it does in the coming day, each entry at its time.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import type { Clock } from "../clock.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Api } from "./api.ts";

/** What is done after the opening: the clubroom is coated in the evening, the workshop abraded and coated in the morning. */
export function comingEntries(openedAtMs: number): readonly EntryBody[] {
  const at = (hours: number) => isoFromMs(openedAtMs + Math.round(hours * 60) * 60_000);
  const crew = (hours: number, zone: string, did: object) => ({ at: at(hours), zone, by: "crew", ...did }) as EntryBody;
  return [
    crew(0.5, "clubroom", { did: "pouring", coat: 1 }),
    crew(1.4, "clubroom", { did: "poured", coat: 1, from: at(0.5), to: at(1.4) }),
    crew(13.5, "workshop", { did: "abraded", how: "screened" }),
    crew(14.6, "workshop", { did: "cleaned" }),
    crew(15.2, "workshop", { did: "pouring", coat: 1 }),
    crew(16.5, "workshop", { did: "poured", coat: 1, from: at(15.2), to: at(16.5) }),
  ];
}

export async function playCrew(api: Api, scenario: Scenario, clock: Clock, signal: AbortSignal): Promise<void> {
  for (const entry of comingEntries(scenario.openedAtMs)) {
    await clock.waitUntil(msFromIso(entry.at), signal);
    if (signal.aborted) return;
    await api.post(`/sites/${scenario.site.id}/journal`, entry);
  }
}
