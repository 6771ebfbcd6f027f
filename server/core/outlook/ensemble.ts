// The outlook of a zone: a small physical model of slab, air and water, fitted to the last two days and run ahead as an
// ensemble. What differs between members: the weather to come, the slab, the leaks, and how the air goes on.
import { feedAhead } from "#core/outlook/feed-ahead.ts";
import { groundOf } from "#core/outlook/ground.ts";
import { heatEndsStep, loggedHeat } from "#core/outlook/heat-log.ts";
import { type HeatStands, membersOf } from "#core/outlook/member.ts";
import { outdoorPastOf } from "#core/outlook/outdoor-past.ts";
import type { HeatSeen, Outlook, OutlookBasis } from "#core/outlook/outlook.ts";
import { type Past, PAST_STEPS, pastOf, STEP_MS } from "#core/outlook/past.ts";
import { MEMBER_STEPS, OUTLOOK_STEPS } from "#core/outlook/steps-ahead.ts";
import { airFallsUnheated } from "#core/outlook/unheated.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** Share of members of a heated room in which the heat fails within the outlook. Common practice, no source. */
const HEAT_FAILS = 0.02;
/** Warmer than the outdoors by more than this over a day: heated. Common practice, no source. */
const HEATED_FROM_K = 4;
/** Air that falls as it does without heat, where nobody logged any: belief that the heat is off. Common practice, no source. */
const FALLS = { heated: 0.7, unheated: 0.2 } as const;
/** A typed night that ends sooner than this says nothing of the night ahead. Common practice, no source. */
const TYPED_LEAST_MS = 6 * 3_600_000;

function heatStandsOf(state: ZoneState, past: Past, heatedK: number | null): HeatStands {
  const { nowMs } = state.moment;
  const logged = loggedHeat(state.record.heating, nowMs);
  const warm = heatedK === null || heatedK > HEATED_FROM_K;
  const falls = logged === null && airFallsUnheated(past);
  return {
    endsStep: logged === true ? heatEndsStep(state.record.heating, nowMs) : null,
    offShare: logged === false ? 1 : falls ? (warm ? FALLS.heated : FALLS.unheated) : 0,
    failShare: logged === true || (heatedK !== null && heatedK > HEATED_FROM_K) ? HEAT_FAILS : 0,
  };
}

/** A room counts as heated by what was logged, or by standing well above the outdoors: one that is not has no heat to lose. */
function heatSeenOf(state: ZoneState, past: Past, heatedK: number | null): HeatSeen | null {
  const logged = loggedHeat(state.record.heating, state.moment.nowMs);
  if (logged === false) return "logged-off";
  if (logged === null && (heatedK === null || heatedK <= HEATED_FROM_K)) return null;
  return airFallsUnheated(past) ? "falls" : "holds";
}

/**
 * The outlook of a zone at its moment; null when nothing supports one: no night heard, no weather, or no conditions now.
 * Pure and seeded: the same log gives the same members.
 */
export function outlookOf(state: ZoneState): Outlook | null {
  const { slabColdC, slabHotC, airMinC, dewPointC } = state.conditions;
  if (slabColdC === null || slabHotC === null || airMinC === null || dewPointC === null) return null;
  const { log, moment, record } = state;
  const past = pastOf(state.line, moment.nowMs);
  // What stands now is what the members begin with, live or by hand.
  past.slabColdC[PAST_STEPS] = slabColdC;
  past.slabHotC[PAST_STEPS] = slabHotC;
  past.airC[PAST_STEPS] = airMinC;
  past.dewPointC[PAST_STEPS] = dewPointC;
  const told = outdoorPastOf(log, moment);
  const heard = told?.from === "node" ? told.past : null;
  const feed = feedAhead(log.feeds, heard, moment.nowMs, moment.heardByMs, MEMBER_STEPS);
  const used = feed !== null && feed.fault === null;
  // A feed in doubt says nothing of the past either.
  const known = told?.from === "feed" && !used ? null : told;
  const typed = record.forecast !== null && record.forecast.untilMs >= moment.nowMs + TYPED_LEAST_MS;
  if (!past.wholeDay && !used && !typed) return null;
  const weather = { known, feed, typed: typed ? record.forecast : null };
  const start = { coldC: slabColdC, hotC: slabHotC, airC: airMinC, dewC: dewPointC };
  const ground = groundOf(past, start, weather, moment.nowMs);
  if (ground === null) return null;
  const heat = heatStandsOf(state, past, ground.air.heatedK);
  const basis: OutlookBasis[] = past.wholeDay ? ["two-nights"] : [];
  if (used) basis.push("feed");
  else if (typed) basis.push("typed");
  else if (heard !== null) basis.push("outdoor-node");
  if (heat.offShare > 0) basis.push("heat-off");
  if (heat.endsStep !== null) basis.push("heating-plan");
  const heatSeen = heatSeenOf(state, past, ground.air.heatedK);
  const members = membersOf(ground, heat);
  const feedFetchedMs = used ? moment.nowMs - feed.ageS * 1000 : null;
  return {
    fromMs: moment.nowMs,
    stepMs: STEP_MS,
    steps: OUTLOOK_STEPS,
    basis,
    feedFetchedMs,
    ...(heatSeen === null ? {} : { heatSeen }),
    members,
  };
}
