// Calls as they were shown for a zone, those of the zones it was split from included.
import type { ShownCallBody } from "#contract/record-parts.ts";
import { msFromIso } from "#contract/primitives.ts";
import type { ZoneNow } from "#core/zone/zones.ts";
import type { LinkedCall, RecordSource } from "./ports.ts";

/** Oldest first, from the call that stood at `fromMs` to the last one shown by `toMs`. */
export function callsShown(
  source: RecordSource,
  site: string,
  lineage: readonly ZoneNow[],
  fromMs: number,
  toMs: number,
): LinkedCall[] {
  const found: LinkedCall[] = [];
  let untilMs = toMs;
  for (const zone of lineage) {
    found.push(...source.calls(site, zone.id, fromMs).filter(({ call }) => msFromIso(call.at) <= untilMs));
    if (zone.splitFrom === null) break;
    untilMs = Math.min(untilMs, zone.splitFrom.atMs);
    if (untilMs < fromMs) break;
  }
  const sorted = found.sort((a, b) => msFromIso(a.call.at) - msFromIso(b.call.at));
  const first = sorted.filter(({ call }) => msFromIso(call.at) <= fromMs).length - 1;
  return sorted.slice(Math.max(0, first));
}

export function shownBodies(calls: readonly LinkedCall[]): ShownCallBody[] {
  return calls.map(({ call, hash }, index) => ({
    at: call.at,
    until: calls[index + 1]?.call.at ?? null,
    call: call.call,
    limiting: call.limiting,
    steps: call.steps,
    pouring: call.pouring,
    reasons: call.rules.filter(({ outcome }) => outcome !== "pass"),
    validUntil: call.validUntil,
    ruleVersion: call.ruleVersion,
    hash,
  }));
}
