// The heat plan of a zone: four ways to heat, each judged by the code of the live judge, and what to look out for.
import { type BuildingHeat, roughBuilding, statedBuilding } from "#core/heat/building.ts";
import { cautionsOf } from "#core/heat/cautions.ts";
import { choiceOf, type HeatCase } from "#core/heat/choice.ts";
import { coastChoice } from "#core/heat/coast.ts";
import { measuredBuilding } from "#core/heat/measured.ts";
import { buildingPastOf } from "#core/heat/past.ts";
import type { HeatPlanAnswer, HeatQuestion } from "#core/heat/question.ts";
import { saveWindowOf } from "#core/heat/save-window.ts";
import { thinned } from "#core/heat/thin.ts";
import { outlookNow, weighedWith } from "#core/judge/seen.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";
import { zonesAt } from "#core/zone/zones.ts";

/** Each choice is judged over this many members: enough for a chance to a twentieth, few enough to answer at once. */
const MOST_MEMBERS = 40;
const LATER_MS = 6 * 3_600_000;
/** A start that lies a little in the past is meant as now. */
const PAST_MS = 15 * 60_000;

/** The building as a person stated it, else as its readings tell, else a rough one around all zones of the site. */
export function buildingOf(state: ZoneState, stated: HeatQuestion["building"]): BuildingHeat {
  const siteM2 = zonesAt(state.log, state.moment.heardByMs).reduce((sum, zone) => sum + zone.areaM2, 0);
  if (stated !== null) return statedBuilding(stated.class, stated.floorM2 ?? siteM2, stated.heightM ?? undefined);
  const guess = roughBuilding("loose", siteM2);
  return measuredBuilding(guess, buildingPastOf(state)) ?? guess;
}

/**
 * What heat would do to `zone` from `nowMs` on, from what had been heard by then. The choices come in the order no heat,
 * heat now, heat from later, heat then coast; heat that the outlook already holds stays in all of them. Throws RangeError
 * if the zone is not in the log.
 */
export function heatPlan(log: SiteLog, zone: string, nowMs: number, question: HeatQuestion): HeatPlanAnswer {
  const state = zoneState(log, zone, { nowMs, heardByMs: nowMs });
  const whole = outlookNow(state);
  if (whole === null) return { ok: false, why: "no-outlook" };
  const { fromMs, stepMs, steps } = whole;
  const laterMs = question.fromMs ?? fromMs + LATER_MS;
  if (laterMs < fromMs - PAST_MS) return { ok: false, why: "from-past" };
  if (laterMs >= fromMs + (steps - 1) * stepMs) return { ok: false, why: "from-too-late" };
  const { heater, targetC } = question;
  const building = buildingOf(state, question.building);
  const of: HeatCase = {
    state,
    outlook: thinned(whole, MOST_MEMBERS),
    building,
    heater,
    setting: { altitudeM: log.altitudeM },
  };
  const fromStep = Math.max(0, Math.round((laterMs - fromMs) / stepMs));
  const heatNow = choiceOf(of, { plan: "heat-now", fromStep: 0, toStep: null, targetC });
  const choices = [
    // The call that stands now is that of the whole outlook, as on the board.
    { ...choiceOf(of, null), callNow: weighedWith(state, whole).verdict.call },
    heatNow,
    choiceOf(of, { plan: "heat-from", fromStep, toStep: null, targetC }),
    coastChoice(of, heatNow, targetC),
  ];
  return {
    ok: true,
    plan: {
      atMs: nowMs,
      building,
      choices,
      saveWindow: saveWindowOf(state, choices),
      cautions: cautionsOf(state, heater),
    },
  };
}
