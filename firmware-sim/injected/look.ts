// One look at a zone: what is doubted, who may speak, and whether the call is pour, at the least cost.
import { outlookNow, weighedWith } from "#core/judge/seen.ts";
import { stageOf } from "#core/judge/rules/all.ts";
import type { Verdict } from "#core/judge/verdict.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";
import { SHED_ZONE } from "../scenario/shed.ts";

export interface Look {
  readonly doubts: readonly Doubt[];
  /** Rules of the data that stop. */
  readonly blocked: readonly string[];
  readonly voices: number;
  /** Probes that have ever spoken. */
  readonly probes: number;
  readonly marginK: number | null;
  readonly slabColdC: number | null;
  /** The call and its limiting rule; reckoned on first asking. */
  called(): { readonly call: string; readonly limiting: string | null };
}

const stopsOf = (verdict: Verdict) => verdict.rules.filter(({ outcome }) => outcome === "stop").map(({ rule }) => rule);

/** The rules of now stop with or without an outlook; only where none does, the outlook is worth its cost. */
function callOf(state: ZoneState, present: Verdict): { readonly call: string; readonly limiting: string | null } {
  const now = present.rules.find(
    ({ rule, outcome }) => outcome === "stop" && stageOf(rule) !== "plan" && stageOf(rule) !== "night",
  );
  const { call, limiting } = now === undefined ? weighedWith(state, outlookNow(state)).verdict : present;
  return { call, limiting };
}

export function lookAt(log: SiteLog, atMs: number): Look {
  const state = zoneState(log, SHED_ZONE, { nowMs: atMs, heardByMs: atMs });
  const present = weighedWith(state, null).verdict;
  let known: ReturnType<Look["called"]> | null = null;
  return {
    doubts: state.trust.doubts,
    blocked: stopsOf(present).filter((rule) => stageOf(rule) === "data"),
    voices: state.slabVoices + state.airVoices,
    probes: state.probes.slab.filter(({ track }) => track.atMs.length > 0).length + state.probes.chips.length,
    marginK: state.conditions.marginK,
    slabColdC: state.conditions.slabColdC,
    called: () => (known ??= callOf(state, present)),
  };
}

/** Looks at one log, each moment once. */
export function looksOf(log: SiteLog): (atMs: number) => Look {
  const known = new Map<number, Look>();
  return (atMs) => {
    const look = known.get(atMs) ?? lookAt(log, atMs);
    known.set(atMs, look);
    return look;
  };
}
