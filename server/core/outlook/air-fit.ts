// How the air of the room goes: with yesterday's hours, with the outdoors, or as it is; learnt from the last two days.
import { PAST_STEPS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { bridged, firstKnown } from "#core/outlook/slab-fit.ts";
import { patternShareOf } from "#core/outlook/pattern-share.ts";

export interface AirFit {
  /** Share of an outdoor departure that the room shows, and how sure that is. */
  readonly gain: number;
  readonly gainSpread: number;
  /** Share of belief that it follows yesterday's hours. */
  readonly patternShare: number;
  /** Yesterday's air on the steps ahead, repeated by days, °C; null without a day. */
  readonly pattern: Float64Array | null;
  /** The air seems heated: warmer than the outdoors, or steady. */
  readonly heatedK: number | null;
}

/** Before anything is learnt: an unheated hall shows half of a departure, a heated one little. Common practice, no source. */
const GAIN = { prior: 0.4, spread: 0.3 } as const;
/** Air under a roof, launched hours ago. Common practice, no source. */
const USUAL = { missK: 1.5, patternShare: 0.7 } as const;
const SMOOTH_STEPS = 6;

/** Running mean of the last hour. */
export function smooth(values: Float64Array): Float64Array {
  const out = values.slice();
  let sum = 0;
  for (let index = 0; index < values.length; index++) {
    sum += values[index] as number;
    if (index >= SMOOTH_STEPS) sum -= values[index - SMOOTH_STEPS] as number;
    out[index] = sum / Math.min(SMOOTH_STEPS, index + 1);
  }
  return out;
}

/** Regression of one course on another through the origin, drawn towards the prior. */
function gainOf(effect: readonly number[], cause: readonly number[]): { gain: number; gainSpread: number } {
  // Ten-minute values of a day tell about as much as eight independent ones.
  const worth = 8 / Math.max(1, cause.length);
  let cross = 0;
  let squares = 0;
  for (let index = 0; index < cause.length; index++) {
    cross += (cause[index] as number) * (effect[index] as number);
    squares += (cause[index] as number) ** 2;
  }
  const noise = 1.2 ** 2;
  const precision = (squares * worth) / noise + 1 / GAIN.spread ** 2;
  const gain = ((cross * worth) / noise + GAIN.prior / GAIN.spread ** 2) / precision;
  return { gain: Math.max(0.02, Math.min(0.95, gain)), gainSpread: Math.sqrt(1 / precision) };
}

export function fitAir(airC: Float64Array, outdoorC: Float64Array | null, steps: number): AirFit | null {
  const air = bridged(airC);
  if (air === null) return null;
  const first = firstKnown(airC);
  const smoothed = smooth(air);
  const outdoors = outdoorC === null ? null : bridged(outdoorC);
  const effect: number[] = [];
  const cause: number[] = [];
  let heatedK = 0;
  let compared = 0;
  if (outdoors !== null && outdoorC !== null) {
    const from = Math.max(first, firstKnown(outdoorC));
    const felt = smooth(outdoors);
    for (let step = Math.max(from, PAST_STEPS - STEPS_PER_DAY); step <= PAST_STEPS; step++) {
      heatedK += (air[step] as number) - (outdoors[step] as number);
      compared++;
      if (step - SMOOTH_STEPS - STEPS_PER_DAY < from) continue;
      // Departures from yesterday, an hour after those outdoors.
      effect.push((smoothed[step] as number) - (smoothed[step - STEPS_PER_DAY] as number));
      cause.push((felt[step - SMOOTH_STEPS] as number) - (felt[step - SMOOTH_STEPS - STEPS_PER_DAY] as number));
    }
  }
  // A departure that was there all day, of heat switched on or off, is not the weather's doing.
  const demeaned = (values: number[]) => {
    const mean = values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
    return values.map((value) => value - mean);
  };
  const { gain, gainSpread } = gainOf(demeaned(effect), demeaned(cause));
  const pattern =
    PAST_STEPS - first < STEPS_PER_DAY
      ? null
      : Float64Array.from({ length: steps }, (_, step) => {
          let index = PAST_STEPS + step - STEPS_PER_DAY;
          while (index > PAST_STEPS) index -= STEPS_PER_DAY;
          return air[index] as number;
        });
  return {
    gain,
    gainSpread,
    patternShare: patternShareOf(smoothed, first, USUAL),
    pattern,
    heatedK: compared > 36 ? heatedK / compared : null,
  };
}

/** Air without heat: some of it falls at once, the rest with the walls; hours. Common practice, no source. */
export const FALL = { quickShare: 0.35, quickH: 1.5, slowH: 12 } as const;
