// A building measured: its loss fitted to the air's own heat balance over the readings of the last two days.
import { type BuildingHeat, leakWPerK } from "#core/heat/building.ts";
import { FLOOR_FILM_W_PER_M2K } from "#core/heat/floor.ts";
import { AIR_J_PER_M3K } from "#core/heat/room.ts";

/** Equal steps, oldest first; NaN where something was not known. `heatKW` is what the heaters gave, 0 = known to be off. */
export interface BuildingPast {
  readonly stepMs: number;
  readonly airC: ArrayLike<number>;
  readonly slabC: ArrayLike<number>;
  readonly outdoorC: ArrayLike<number>;
  readonly heatKW: ArrayLike<number>;
}

const HOUR_MS = 3_600_000;
/** Less than this says too little; nor does a room as warm as outdoors. Common practice, no source. */
const LEAST_HOURS = 6;
const LEAST_DIFFERENCE_K = 3;
/** How sure the fitted loss must be, one standard error over the value. Common practice, no source. */
const MOST_ERROR = 0.3;
/** A fitted loss beyond these times the guess is a mistaken heater or a door that stands open, not a wall. */
const PLAUSIBLE = { min: 0.1, max: 10 } as const;
/** Belief in the guessed heat of air and walls, as if seen in a change of this many K/h over the whole time. */
const PRIOR_K_PER_H = 0.3;
/** Leaks are never all of the loss. Common practice, no source. */
const MOST_LEAK = 0.8;

interface Sums {
  xx: number;
  xr: number;
  rr: number;
  xy: number;
  ry: number;
  yy: number;
  count: number;
}

/** The balance of the air, an hour at a time: power - floor = loss x (inside - outside) + heat of the room x its change. */
function sumsOf(guess: BuildingHeat, past: BuildingPast): Sums {
  const { airC, slabC, outdoorC, heatKW, stepMs } = past;
  const half = Math.max(1, Math.round(HOUR_MS / 2 / stepMs));
  const perH = HOUR_MS / (2 * half * stepMs);
  const sums: Sums = { xx: 0, xr: 0, rr: 0, xy: 0, ry: 0, yy: 0, count: 0 };
  for (let step = half; step + half < airC.length; step += half) {
    const air = airC[step] as number;
    const x = air - (outdoorC[step] as number);
    const r = ((airC[step + half] as number) - (airC[step - half] as number)) * perH;
    const floorW = FLOOR_FILM_W_PER_M2K * guess.floorM2 * (air - (slabC[step] as number));
    // The power must have been the same through the hour, else its change stands in the wrong place.
    const steady = heatKW[step - half] === heatKW[step] && heatKW[step + half] === heatKW[step];
    const y = 1000 * (heatKW[step] as number) - floorW;
    if (!steady || !Number.isFinite(x + r + y)) continue;
    sums.xx += x * x;
    sums.xr += x * r;
    sums.rr += r * r;
    sums.xy += x * y;
    sums.ry += r * y;
    sums.yy += y * y;
    sums.count++;
  }
  return sums;
}

/**
 * The building with the loss that its readings tell, or null when they do not: too short, too little difference to the
 * outdoors, or no loss that fits. A steady stretch tells it by power against difference, a night without heat by air that
 * lies between slab and outdoors, a start or a stop of the heater by the rate of change: all are the same balance, fitted
 * by least squares with the heat of the room held near its guess. `guess` gives floor, height and masses.
 */
export function measuredBuilding(guess: BuildingHeat, past: BuildingPast): BuildingHeat | null {
  const { xx, xr, rr, xy, ry, yy, count } = sumsOf(guess, past);
  const hours = (count * Math.max(1, Math.round(HOUR_MS / 2 / past.stepMs)) * past.stepMs) / HOUR_MS;
  if (hours < LEAST_HOURS || Math.sqrt(xx / count) < LEAST_DIFFERENCE_K) return null;
  const guessed = (AIR_J_PER_M3K * guess.volumeM3 + guess.wallMassJPerK) / 3600;
  const prior = count * PRIOR_K_PER_H ** 2;
  const det = xx * (rr + prior) - xr * xr;
  const lossWPerK = (xy * (rr + prior) - xr * (ry + prior * guessed)) / det;
  const heatWhPerK = (xx * (ry + prior * guessed) - xr * xy) / det;
  const left =
    yy +
    lossWPerK ** 2 * xx +
    heatWhPerK ** 2 * rr +
    2 * (lossWPerK * heatWhPerK * xr - lossWPerK * xy - heatWhPerK * ry);
  // Half-hours next to each other tell nearly the same: a quarter of them is counted.
  const errorWPerK = Math.sqrt((Math.max(0, left) / Math.max(1, count / 4 - 2)) * ((rr + prior) / det));
  const plausible =
    lossWPerK >= PLAUSIBLE.min * guess.lossWPerK &&
    lossWPerK <= PLAUSIBLE.max * guess.lossWPerK &&
    errorWPerK <= MOST_ERROR * lossWPerK;
  if (!plausible) return null;
  const mostAirChangesPerH = (MOST_LEAK * lossWPerK) / leakWPerK(guess.volumeM3, 1);
  return {
    ...guess,
    lossWPerK,
    airChangesPerH: Math.min(guess.airChangesPerH, mostAirChangesPerH),
    basis: "measured",
  };
}
