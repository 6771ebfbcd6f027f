// The chart of a zone over HTTP: a month and a year of every quantity and of the conditions, as a browser asks for it.
import { isoFromMs } from "#contract/primitives.ts";
import type { SeriesBody } from "#contract/board.ts";
import { startChild } from "./child.ts";
import { atMost, type Figure } from "./figure.ts";
import { type Filled, ZONES } from "./filled.ts";
import type { Started, StartWish } from "./server-child.ts";
import { HOUR_MS, SITE, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

/** How far back is asked for, days, and within what time it should be answered, ms. */
const WISHES = [
  { days: 30, goalMs: 40 },
  { days: 365, goalMs: 150 },
] as const;
const POINTS = 500;

async function askedMs(url: string): Promise<number> {
  const startMs = performance.now();
  const answer = await fetch(url);
  const body = (await answer.json()) as SeriesBody;
  const tookMs = performance.now() - startMs;
  if (!answer.ok || body.conditions.marginK.length !== POINTS) throw new Error(`${answer.status} for ${url}`);
  return tookMs;
}

export async function measureChart(filled: Filled, { queries }: Sizes): Promise<Figure[]> {
  const child = await startChild("server");
  const wish: StartWish = { data: filled.data, zones: 0 };
  const { httpUrl } = await child.ask<Started>("start", wish);
  try {
    const toMs = filled.endMs;
    const urlOf = (query: number, days: number) => {
      const range = new URLSearchParams({
        from: isoFromMs(toMs - days * 24 * HOUR_MS),
        to: isoFromMs(toMs),
        points: String(POINTS),
      });
      return `${httpUrl}/api/v1/sites/${SITE.id}/zones/${zoneId(query % ZONES)}/series?${range}`;
    };
    const short: number[] = [];
    const long: number[][] = WISHES.map(() => []);
    for (let query = 0; query < queries; query++) {
      short.push(await askedMs(urlOf(query, 1)));
      for (const [at, { days }] of WISHES.entries()) long[at]?.push(await askedMs(urlOf(query, days)));
    }
    return WISHES.map(({ days, goalMs }, at): Figure => {
      const times = long[at] ?? [];
      return {
        what: `chart of a zone over HTTP, 4 quantities, ${days} days in ${POINTS} points`,
        value: median(times),
        unit: "ms",
        n: times.length,
        spread: `p90 ${shown(quantile(times, 0.9))}`,
        peer: { what: "the same, one day", value: median(short) },
        goal: atMost(goalMs),
      };
    });
  } finally {
    await child.ask("stop").finally(() => child.end());
  }
}
