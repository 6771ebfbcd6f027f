// What a zone is watched for beside its call: the film that lies there, hour by hour until it is hard, and the heat.
import type { FilmAhead } from "#core/judge/member-walk.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import { luckOf, readingErrorOf } from "#core/judge/reading-error.ts";
import type { HeatSeen, Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** Something that may happen to the film: how likely, when (early side and middle of those members), and how far it goes. */
export interface Foreseen {
  /** 0 to 1. */
  readonly chance: number;
  readonly earliestMs: number | null;
  readonly likelyMs: number | null;
  /** Middle of the lowest values where it happens, K or °C; null where it does not. */
  readonly lowest: number | null;
}

export interface FilmWatch {
  /** Margin limit of the film itself, and the least slab temperature that its sheet allows. */
  readonly limitK: number;
  readonly leastC: number | null;
  /** It still earns its recoat minimum or its dew-safe time. */
  readonly curing: boolean;
  /** The margin falls below the limit before the film is past dew; null without an outlook. */
  readonly dew: Foreseen | null;
  /** The slab falls below the least before the film has cured; null without an outlook, or without a least. */
  readonly cold: Foreseen | null;
}

export interface Watch {
  /** null on a bare slab. */
  readonly film: FilmWatch | null;
  /** null where nobody can say: no outlook, or no warm room to lose heat from. */
  readonly heat: HeatSeen | null;
}

type Value = (member: OutlookMember, step: number) => number;

/** Members in which `value`, of which `lowest` is the lowest of each, falls below `limit` before the film is done. */
function foreseen(
  outlook: Outlook,
  films: readonly FilmAhead[],
  lowest: Float64Array,
  value: Value,
  limit: number,
  errorOf: (index: number) => number,
  doneMs: (film: FilmAhead) => number | null,
): Foreseen {
  const times: number[] = [];
  const lows: number[] = [];
  const weights: number[] = [];
  let chance = 0;
  for (const [index, member] of outlook.members.entries()) {
    const endMs = doneMs(films[index] as FilmAhead) ?? Number.POSITIVE_INFINITY;
    const error = errorOf(index);
    // Its lowest value of all is not below.
    if ((lowest[index] as number) + error >= limit) continue;
    let first: number | null = null;
    let low = Number.POSITIVE_INFINITY;
    for (let step = 0; step < outlook.steps; step++) {
      const atMs = outlook.fromMs + step * outlook.stepMs;
      if (atMs > endMs) break;
      const is = value(member, step) + error;
      low = Math.min(low, is);
      if (is < limit) first ??= atMs;
    }
    if (first === null) continue;
    chance += member.weight;
    times.push(first);
    lows.push(low);
    weights.push(member.weight);
  }
  if (times.length === 0) return { chance: 0, earliestMs: null, likelyMs: null, lowest: null };
  return {
    chance: Math.min(1, chance),
    earliestMs: weightedQuantile(times, weights, 0.1),
    likelyMs: weightedQuantile(times, weights, 0.5),
    lowest: weightedQuantile(lows, weights, 0.5),
  };
}

function curedMs({ opensMs, dewSafeMs }: FilmAhead): number | null {
  return opensMs === null || dewSafeMs === null ? null : Math.max(opensMs, dewSafeMs);
}

/** What the film may meet along the members that the judge has walked already; sensors may be off as in the night of a new coat. */
export function watchOf(state: ZoneState, outlook: Outlook | null, prospect: Prospect): Watch {
  const heat = outlook?.heatSeen ?? null;
  const { film } = state;
  if (film === null) return { film: null, heat };
  const { limits } = film.sheet;
  const leastC = limits.slabC[0];
  const curing = state.sensitive || film.recoat.share < 1;
  const walked = outlook !== null && prospect.films.length === outlook.members.length;
  const error = readingErrorOf(state);
  const dew =
    !walked || !state.sensitive
      ? null
      : foreseen(
          outlook,
          prospect.films,
          prospect.reach.lowMarginK,
          (member, step) => (member.slabColdC[step] as number) - (member.dewPointC[step] as number),
          limits.dewMarginK,
          (index) => error.dampK - error.doubtK + error.marginK * luckOf(index, 0),
          ({ dewSafeMs }) => dewSafeMs,
        );
  const cold =
    !walked || !curing || leastC === null
      ? null
      : foreseen(
          outlook,
          prospect.films,
          prospect.reach.lowSlabC,
          (member, step) => member.slabColdC[step] as number,
          leastC,
          (index) => error.slabK * luckOf(index, 1) - error.slabDoubtK,
          curedMs,
        );
  return { film: { limitK: limits.dewMarginK, leastC, curing, dew, cold }, heat };
}
