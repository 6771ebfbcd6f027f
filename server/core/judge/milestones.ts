// The film ahead as people see it: when its window opens and closes, when it is past dew, and whether the race is lost.
import type { Prospect } from "#core/judge/prospect.ts";
import type { FanTime, FilmView, Outlook } from "#core/outlook/outlook.ts";
import { weightedQuantiles } from "#core/outlook/quantile.ts";
import type { ZoneState } from "#core/zone/state.ts";

const HOUR_MS = 3_600_000;

type Milestone = keyof Prospect["films"][number];

/** Quantiles of one time over the members; a member that does not reach it counts as never. */
export function fanTimeOf(times: readonly (number | null)[], weights: readonly number[]): FanTime {
  const filled = times.map((time) => time ?? Number.POSITIVE_INFINITY);
  const [earliestMs = null, likelyMs = null, latestMs = null] = weightedQuantiles(filled, weights, [0.1, 0.5, 0.9]).map(
    (atMs) => (Number.isFinite(atMs) ? Math.round(atMs) : null),
  );
  const chance = weights.reduce((sum, weight, index) => sum + (times[index] === null ? 0 : weight), 0);
  return {
    earliestMs,
    likelyMs,
    latestMs,
    chance: Math.min(1, chance),
  };
}

/** The film's milestones over the members; null on a bare slab. */
export function filmViewOf(state: ZoneState, outlook: Outlook, prospect: Prospect): FilmView | null {
  const { films } = prospect;
  if (state.film === null || films.length === 0) return null;
  const weights = outlook.members.map((member) => member.weight);
  const times = (milestone: Milestone) =>
    fanTimeOf(
      films.map((film) => film[milestone]),
      weights,
    );
  const { nowMs } = state.moment;
  const pourMs = prospect.pourH * HOUR_MS;
  // Abrading reopens a window, or outlasts it, until its credit ends.
  const creditMs =
    prospect.effectiveClosesMs === prospect.closesMs ? Number.NEGATIVE_INFINITY : (prospect.effectiveClosesMs ?? 0);
  let chanceLost = 0;
  for (const [index, film] of films.entries()) {
    if (film.closesMs === null) continue;
    const startsMs = Math.max(nowMs, film.opensMs ?? Number.POSITIVE_INFINITY);
    if (startsMs + pourMs > Math.max(film.closesMs, creditMs)) chanceLost += weights[index] as number;
  }
  return {
    opens: times("opensMs"),
    closes: times("closesMs"),
    dewSafe: times("dewSafeMs"),
    walkOn: times("footMs"),
    driveOn: times("trafficMs"),
    chanceLost: Math.min(1, chanceLost),
  };
}
