// Made-up answers of weather services, in the two forms that recipes read, with the recipes for them.
import type { FeedRecipe } from "#contract/feed.ts";

export const HOUR_MS = 3_600_000;

export interface ToldHour {
  readonly atMs: number;
  readonly airC: number;
  readonly rhPct: number;
}

/** Hours from `fromMs` on: a calm winter day that is coldest at six. */
export function toldHours(fromMs: number, count: number): ToldHour[] {
  const first = Math.floor(fromMs / HOUR_MS) * HOUR_MS;
  return Array.from({ length: count }, (_, index) => {
    const atMs = first + index * HOUR_MS;
    const airC = 4 - 4 * Math.cos((2 * Math.PI * (atMs / HOUR_MS - 18)) / 24);
    return { atMs, airC: Math.round(airC * 10) / 10, rhPct: 70 };
  });
}

/** Parallel lists. */
export function listsOf(hours: readonly ToldHour[]): object {
  return {
    hourly: {
      when: hours.map(({ atMs }) => new Date(atMs).toISOString().slice(0, 16)),
      air: hours.map(({ airC }) => airC),
      humid: hours.map(({ rhPct }) => rhPct),
    },
  };
}

export const LISTS_RECIPE: FeedRecipe = {
  source: { url: "http://127.0.0.1:9/hours" },
  time: { at: "/hourly/when", as: "local", zone: "UTC" },
  air: { at: "/hourly/air", unit: "C" },
  humidity: { at: "/hourly/humid", unit: "percent" },
};

export const ITEMS_RECIPE: FeedRecipe = {
  source: { url: "http://127.0.0.1:9/hours" },
  items: "/list",
  time: { at: "/t", as: "epoch-s" },
  air: { at: "/main/air", unit: "K" },
  dewPoint: { at: "/main/dew", unit: "F" },
};
