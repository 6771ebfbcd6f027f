// Heat, then coast: when to stop the heater, so that the slab is warm and already falling when the next coat may go on.
import { choiceOf, type HeatCase, type WayToHeat } from "#core/heat/choice.ts";
import type { HeatChoice } from "#core/heat/question.ts";
import { thinned } from "#core/heat/thin.ts";

const HOUR_MS = 3_600_000;
/** Heaters off one to two hours before the opening: published guidance on out-gassing. The other stops: trade judgement. */
const BEFORE_OPENING_H = [1, 2] as const;
const STOPS_H = [4, 8, 12] as const;
/** The slab counts as lifted when it is this much above the next coat's minimum. Common practice, no source. */
const LIFTED_K = 3;
/** Members over which the stops are compared. */
const SEARCH_MEMBERS = 20;
/** Chances nearer than this are the same. */
const SAME_CHANCE = 0.05;

/** Stops worth trying, steps from now. */
function stopsOf(of: HeatCase, heatNow: HeatChoice): readonly number[] {
  const { stepMs, steps } = of.outlook;
  const stepsAnHour = HOUR_MS / stepMs;
  const atMs = heatNow.film === null ? heatNow.pour?.likelyMs : heatNow.film.opens.likelyMs;
  const opening = atMs === undefined || atMs === null ? null : (atMs - of.outlook.fromMs) / stepMs;
  const minC = of.state.record.system[of.state.record.nextCoat ?? -1]?.limits.slabC[0] ?? null;
  const lifted = minC === null ? -1 : heatNow.course.slabColdC.findIndex((slabC) => slabC >= minC + LIFTED_K);
  const stops = [
    ...(opening === null ? [] : BEFORE_OPENING_H.map((hours) => opening - hours * stepsAnHour)),
    lifted * (heatNow.course.stepMs / stepMs),
    ...STOPS_H.map((hours) => hours * stepsAnHour),
  ].map(Math.round);
  return [...new Set(stops)].filter((step) => step >= stepsAnHour && step < steps);
}

/** Negative when `a` is the better one: saves the window, likelier pour, window less likely lost, earlier pour, less heat. */
function compare(a: HeatChoice, b: HeatChoice): number {
  if (a.savesWindow !== b.savesWindow) return a.savesWindow ? -1 : 1;
  const pourChance = (b.pour?.chance ?? 0) - (a.pour?.chance ?? 0);
  if (Math.abs(pourChance) > SAME_CHANCE) return pourChance;
  const lost = (a.film?.chanceLost ?? 0) - (b.film?.chanceLost ?? 0);
  if (Math.abs(lost) > SAME_CHANCE) return lost;
  const earlierMs = (a.pour?.likelyMs ?? 0) - (b.pour?.likelyMs ?? 0);
  if (Math.abs(earlierMs) > HOUR_MS) return earlierMs;
  return a.heatKWh - b.heatKWh;
}

/** The best of the stops: searched over fewer members, then judged over all. */
export function coastChoice(of: HeatCase, heatNow: HeatChoice, targetC: number): HeatChoice {
  const way = (toStep: number): WayToHeat => ({ plan: "heat-then-coast", fromStep: 0, toStep, targetC });
  const fewer: HeatCase = { ...of, outlook: thinned(of.outlook, SEARCH_MEMBERS) };
  const tried = stopsOf(of, heatNow).map((step) => ({ step, choice: choiceOf(fewer, way(step)) }));
  const best = tried.reduce((first, next) => (compare(next.choice, first.choice) < 0 ? next : first));
  return choiceOf(of, way(best.step));
}
