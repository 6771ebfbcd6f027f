// What people do next on a zone, and which of it the call asks for first.
import type { CallBody } from "#contract/call.ts";
import type { RuleId } from "#core/judge/call.ts";

export const DAILY_ACTS = [
  "pouring",
  "poured",
  "abraded",
  "washed",
  "cleaned",
  "inspected",
  "measured",
  "heatingOn",
  "heatingOff",
  "held",
  "released",
] as const;
export const RARE_ACTS = [
  "forecast",
  "filled",
  "tested",
  "profile",
  "adhesion",
  "ventilationOn",
  "ventilationOff",
  "overrode",
] as const;
export type Act = (typeof DAILY_ACTS)[number] | (typeof RARE_ACTS)[number];

const STEP_ACTS = { wash: "washed", abrade: "abraded", clean: "cleaned" } as const;

/** What clears a rule, where a person can clear it. */
const CLEARED_BY: Partial<Record<RuleId, readonly Act[]>> = {
  "data-missing": ["measured"],
  "data-stale": ["measured"],
  "data-fault": ["measured"],
  "data-conflict": ["measured"],
  "record-missing": ["poured", "abraded"],
  hold: ["released"],
  "filler-soft": ["filled"],
  "film-soft": ["inspected"],
  "inspect-due": ["inspected"],
  dust: ["cleaned", "inspected"],
  "surface-damp": ["inspected"],
  "slab-moisture": ["tested"],
  "resin-temp": ["measured"],
  "hand-check": ["measured"],
  "night-unknown": ["forecast"],
};

/** The two acts to offer first. */
export function firstActs(call: CallBody): readonly Act[] {
  const wanted: Act[] = [];
  if (call.pouring) wanted.push("poured");
  if (call.limiting !== null) wanted.push(...(CLEARED_BY[call.limiting] ?? []));
  wanted.push(...call.steps.map((step) => STEP_ACTS[step]));
  if (call.call === "pour" && !call.pouring) wanted.push("pouring");
  wanted.push("inspected", "measured");
  return [...new Set(wanted)].slice(0, 2);
}
