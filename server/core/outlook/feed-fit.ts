// How well a weather feed fits what is known: as it is, in another unit, shifted by whole hours.
import { dewPointC, rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { RH_RANGE_PCT, TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import type { FeedColumns } from "#core/outlook/feed-hours.ts";
import { cFromF, fFromC } from "#core/units.ts";

/** Shifts that are tried, hours either way. */
export const SHIFTS_H = 14;

/** Known minus feed. Means and root mean squares over the pairs, K; `debiasedK` = what is left of both without the means. */
export interface Fit {
  readonly pairs: number;
  readonly airMeanK: number;
  readonly dewMeanK: number;
  readonly airRmsK: number;
  readonly dewRmsK: number;
  readonly rmsK: number;
  readonly airDebiasedK: number;
  readonly dewDebiasedK: number;
}

type Reread = (airC: number, dewC: number) => readonly [airC: number, dewC: number];

const asIs: Reread = (airC, dewC) => [airC, dewC];

/** Hourly columns of equal length; `shiftH` > 0 takes the feed's value of so many hours later. */
export function fitOf(feed: FeedColumns, known: FeedColumns, shiftH = 0, reread: Reread = asIs): Fit {
  let pairs = 0;
  let air = 0;
  let dew = 0;
  let air2 = 0;
  let dew2 = 0;
  for (let hour = 0; hour < known.airC.length; hour++) {
    const feedAir = feed.airC[hour + shiftH] ?? Number.NaN;
    const feedDew = feed.dewPointC[hour + shiftH] ?? Number.NaN;
    const knownAir = known.airC[hour] as number;
    const knownDew = known.dewPointC[hour] as number;
    if (Number.isNaN(feedAir + feedDew + knownAir + knownDew)) continue;
    const [airC, dewC] = reread(feedAir, feedDew);
    pairs++;
    air += knownAir - airC;
    dew += knownDew - dewC;
    air2 += (knownAir - airC) ** 2;
    dew2 += (knownDew - dewC) ** 2;
  }
  const airMeanK = air / pairs;
  const dewMeanK = dew / pairs;
  return {
    pairs,
    airMeanK,
    dewMeanK,
    airRmsK: Math.sqrt(air2 / pairs),
    dewRmsK: Math.sqrt(dew2 / pairs),
    rmsK: Math.sqrt((air2 + dew2) / pairs / 2),
    airDebiasedK: Math.sqrt(Math.max(0, air2 / pairs - airMeanK ** 2)),
    dewDebiasedK: Math.sqrt(Math.max(0, dew2 / pairs - dewMeanK ** 2)),
  };
}

function humidityOf(airC: number, dewC: number): number {
  return rhPctFromDewPoint(keptWithin(airC, TEMP_RANGE_C), keptWithin(dewC, { min: -120, max: 100 }));
}

function withHumidity(airC: number, rhPct: number): readonly [number, number] {
  return [airC, dewPointC(keptWithin(airC, TEMP_RANGE_C), keptWithin(rhPct, RH_RANGE_PCT))];
}

/** Mistakes of units that a recipe can make, each undone. */
const REREADS: readonly Reread[] = [
  (airC, dewC) => [cFromF(airC), cFromF(dewC)],
  (airC, dewC) => [fFromC(airC), fFromC(dewC)],
  (airC, dewC) => [airC, cFromF(dewC)],
  (airC, dewC) => [airC, fFromC(dewC)],
  // With a humidity beside it, a wrong air temperature makes the dew point wrong as well.
  (airC, dewC) => withHumidity(cFromF(airC), humidityOf(airC, dewC)),
  (airC, dewC) => withHumidity(fFromC(airC), humidityOf(airC, dewC)),
  // A share read as percent, and percent read as a share.
  (airC, dewC) => withHumidity(airC, 100 * humidityOf(airC, dewC)),
  (airC, dewC) => withHumidity(airC, humidityOf(airC, dewC) / 100),
];

/** The best root mean square that another unit would give, K. */
export function bestInAnotherUnit(feed: FeedColumns, known: FeedColumns): number {
  return Math.min(...REREADS.map((reread) => fitOf(feed, known, 0, reread).rmsK));
}

/** The shift of the feed that fits the air best, a steady difference aside; only shifts with at least `leastPairs`. */
export function bestShift(
  feed: FeedColumns,
  known: FeedColumns,
  leastPairs: number,
): { readonly shiftH: number; readonly fit: Fit } {
  let best = { shiftH: 0, fit: fitOf(feed, known) };
  for (let shiftH = -SHIFTS_H; shiftH <= SHIFTS_H; shiftH++) {
    const fit = fitOf(feed, known, shiftH);
    if (fit.pairs >= leastPairs && fit.airDebiasedK < best.fit.airDebiasedK) best = { shiftH, fit };
  }
  return best;
}
