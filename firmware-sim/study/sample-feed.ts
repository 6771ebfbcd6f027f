// A weather feed as a site would have fetched it: what then came, and an error that grows with the hours ahead.
import type { FeedFetch } from "#core/zone/site.ts";
import type { Weather } from "../building/weather.ts";
import { normal } from "../random.ts";
import type { Draw } from "./draw.ts";

const HOUR_MS = 3_600_000;
const EVERY_H = 3;
const AHEAD_H = 48;
/** Share of an hour's error that the next hour keeps. */
const KEEPS = 0.9;

/** Standard deviation of the error, K: 1.5 after 24 h, 2 after 36 h. Usual size of a short-range forecast error, from memory. */
function sigmaK(aheadH: number): number {
  return 1.5 * (Math.max(0, aheadH) / 24) ** 0.71;
}

/** Fetches every three hours from `fromMs` to `toMs`; two in a row come from the same run of the forecaster. */
export function feedOf(draw: Draw, seed: number, weather: Weather, fromMs: number, toMs: number): readonly FeedFetch[] {
  const biasK = { air: draw.normal("feed-air", 0.7), dew: draw.normal("feed-dew", 0.7) };
  const fetches: FeedFetch[] = [];
  const count = Math.floor((toMs - fromMs) / (EVERY_H * HOUR_MS));
  for (let index = 0; index <= count; index++) {
    const fetchedMs = fromMs + index * EVERY_H * HOUR_MS;
    const firstMs = Math.floor(fetchedMs / HOUR_MS) * HOUR_MS;
    const run = `feed-${index >> 1}`;
    const state = { air: normal(seed, `${run}/air`), dew: normal(seed, `${run}/dew`) };
    const skipped = (index & 1) * EVERY_H;
    const hours: { atMs: number; airC: number; dewPointC: number }[] = [];
    for (let h = 0; h <= AHEAD_H + skipped; h++) {
      for (const key of ["air", "dew"] as const)
        state[key] = KEEPS * state[key] + Math.sqrt(1 - KEEPS ** 2) * normal(seed, `${run}/${key}/step`, h);
      if (h < skipped) continue;
      const atMs = firstMs + (h - skipped) * HOUR_MS;
      const truly = weather(atMs);
      const airC = truly.airC + biasK.air + sigmaK(h) * state.air;
      const dewPointC = Math.min(airC, truly.dewPointC + biasK.dew + sigmaK(h) * state.dew);
      hours.push({ atMs, airC: Math.round(airC * 10) / 10, dewPointC: Math.round(dewPointC * 10) / 10 });
    }
    fetches.push({ fetchedMs, hours });
  }
  return fetches;
}
