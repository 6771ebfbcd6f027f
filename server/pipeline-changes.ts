// When a call counts as changed, and the call that stands in when a zone cannot be judged.
import type { CallBody } from "#contract/call.ts";
import { msFromIso } from "#contract/primitives.ts";
import type { Call } from "#core/judge/call.ts";
import type { Judged } from "#core/judge/judged.ts";

/** A time ahead that moves by less than this is the same time to people. */
const MOVED_MS = 15 * 60_000;

function moved(before: string | null, after: string | null): boolean {
  if (before === null || after === null) return before !== after;
  return Math.abs(msFromIso(after) - msFromIso(before)) > MOVED_MS;
}

function outcomes(call: CallBody): string {
  return call.rules
    .map(({ rule, outcome }) => `${rule}:${outcome}`)
    .sort()
    .join(" ");
}

/** True if people must be told: another word, reason, step, outcome of a rule, or time ahead. */
export function isChanged(before: CallBody | null, after: CallBody): boolean {
  return (
    before === null ||
    before.call !== after.call ||
    before.limiting !== after.limiting ||
    before.pouring !== after.pouring ||
    before.steps.join() !== after.steps.join() ||
    outcomes(before) !== outcomes(after) ||
    moved(before.validUntil, after.validUntil) ||
    before.next?.call !== after.next?.call ||
    moved(before.next?.likely ?? null, after.next?.likely ?? null)
  );
}

/** Nobody may pour on a call that could not be renewed. `pouring` as it was: a pour under way must be told to stop. */
export function waitAfterError(site: string, zone: string, atMs: number, pouring: boolean): Judged {
  const call: Call = {
    site,
    zone,
    atMs,
    call: "wait",
    limiting: "data-fault",
    rules: [
      {
        rule: "data-fault",
        outcome: "stop",
        measured: null,
        limit: null,
        unit: null,
        probe: null,
        sinceMs: atMs,
        detail: "judge-error",
      },
    ],
    steps: [],
    validUntilMs: null,
    pour: null,
    next: null,
    night: null,
    window: { state: "none", opensAtMs: null, closesAtMs: null, earned: null },
    film: null,
    nextCoat: null,
    pouring,
    conditions: {
      slabColdC: null,
      slabHotC: null,
      airC: null,
      rhPct: null,
      dewPointC: null,
      marginK: null,
      marginUncertaintyK: null,
      slabSlopeKPerH: null,
      ageS: null,
    },
    ruleVersion: "judge-error",
  };
  return { call, view: null, marginLimitK: null, watch: null };
}
