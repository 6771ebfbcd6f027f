// Can heat save the window of the film? The cheapest choice that does, or the honest no and the work that follows.
// "No" is said of things as they stand: a floor that waits for somebody's work is not poured in any of the choices.
import type { HeatChoice, SaveAnswer, SaveWindow } from "#core/heat/question.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** A window that closes within the outlook in fewer cases than this is not closing. */
const CLOSING_FROM = 0.1;
/**
 * Walk-behind over the floor 150 to 300 ft²/h, hand work along the edges 25 to 50 ft/h: common practice, no source; here in
 * metric, slow and fast.
 */
const FLOOR_M2_PER_H = { slow: 14, fast: 28 } as const;
const EDGE_M_PER_H = { slow: 7.6, fast: 15 } as const;

/** Person-hours to abrade a floor, fast and slow, its edge taken as a square's. */
export function abradingHours(areaM2: number): readonly [number, number] {
  const edgeM = 4 * Math.sqrt(areaM2);
  return [
    areaM2 / FLOOR_M2_PER_H.fast + edgeM / EDGE_M_PER_H.fast,
    areaM2 / FLOOR_M2_PER_H.slow + edgeM / EDGE_M_PER_H.slow,
  ];
}

function answerOf(state: ZoneState, choices: readonly HeatChoice[], cheapest: number | null): SaveAnswer {
  const { film, record } = state;
  const without = choices[0];
  if (without === undefined || without.film === null) return "no-film";
  if (film === null || record.nextCoat === null) return "no-film";
  // Closed is closed: heat opens nothing. Where abrading has reopened it, that credit has its own race.
  const closed = film.closing.closesMs !== null && film.closing.closesMs <= state.moment.nowMs;
  if (closed && without.film.chanceLost > 0) return "no";
  const endsMs = without.course.fromMs + without.course.stepMs * (without.course.marginK.length - 1);
  const closes = without.film.closes;
  const closesInTime = closes.earliestMs !== null && closes.earliestMs <= endsMs;
  if (film.closing.open || !closesInTime || closes.chance < CLOSING_FROM) return "not-closing";
  if (without.savesWindow) return "holds-without-heat";
  return cheapest === null ? "no" : "yes";
}

/** `choices[0]` is the one without heat. */
export function saveWindowOf(state: ZoneState, choices: readonly HeatChoice[]): SaveWindow {
  const saving = choices
    .map((choice, index) => ({ choice, index }))
    .filter(({ choice }) => choice.savesWindow)
    .sort((a, b) => a.choice.heatKWh - b.choice.heatKWh);
  const cheapest = saving[0]?.index ?? null;
  const answer = answerOf(state, choices, cheapest);
  const { areaM2 } = state.zone;
  return {
    answer,
    choice: answer === "yes" || answer === "holds-without-heat" ? cheapest : null,
    abrading: answer === "yes" || answer === "no" ? { areaM2, personHours: abradingHours(areaM2) } : null,
  };
}
