// The chart of a zone over HTTP: 30 days of every quantity and of the conditions, as a browser asks for it.
import { isoFromMs } from "#contract/primitives.ts";
import type { SeriesBody } from "#contract/board.ts";
import { startChild } from "./child.ts";
import type { Figure } from "./figure.ts";
import { type Filled, ZONES } from "./filled.ts";
import type { Started, StartWish } from "./server-child.ts";
import { HOUR_MS, SITE, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

const DAYS = 30;
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
  const child = startChild("./server-child.ts");
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
    const long: number[] = [];
    const short: number[] = [];
    for (let query = 0; query < queries; query++) {
      long.push(await askedMs(urlOf(query, DAYS)));
      short.push(await askedMs(urlOf(query, 1)));
    }
    return [
      {
        what: `chart of a zone over HTTP, ${DAYS} days in ${POINTS} points`,
        value: median(long),
        unit: "ms",
        n: queries,
        spread: `p90 ${shown(quantile(long, 0.9))}`,
        peer: { what: "the same, one day", value: median(short) },
      },
    ];
  } finally {
    await child.ask("stop").finally(() => child.end());
  }
}
