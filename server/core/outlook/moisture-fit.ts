// How the room keeps its water: candidates for leakage and for what timber and concrete store are run through the last
// day, each with the source of water that fits it best, and those that gave the dew points that were heard are believed.
import { saturatedPa } from "#core/air/vapour-table.ts";
import { latin } from "#core/outlook/draws.ts";
import { PAST_STEPS, STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { bridged, firstKnown } from "#core/outlook/slab-fit.ts";

const STEP_H = STEP_MS / 3_600_000;
const CANDIDATES = 48;
/** Air changes an hour, and how fast and how long goods take up water. */
const DRAW = { leak: latin(20, CANDIDATES), goods: latin(21, CANDIDATES), slow: latin(22, CANDIDATES) };
/** An error of this size in the dew point over a day halves belief in a candidate and more, K. */
const BELIEF_K = 0.5;
const INDEPENDENT = 6;
/** Vapour that settles on a colder slab: share of the excess an hour, for a film of 3 W/m²K and a hall of 4 m. */
export const SETTLES_PER_H = 2;

export interface MoistureCandidate {
  readonly leakPerH: number;
  /** Share of the gap to the humidity of goods that closes an hour, and their own time, hours. */
  readonly goodsPerH: number;
  readonly goodsH: number;
  /** Pa an hour from people, wet work, drying concrete. */
  readonly sourcePaPerH: number;
  /** Humidity of the goods now, 0 to 1. */
  readonly goods: number;
  /** Error over the last day, K of dew point. */
  readonly missK: number;
  readonly belief: number;
}

/** The last day as vapour pressures, Pa. */
interface Day {
  readonly first: number;
  readonly heard: Float64Array;
  readonly pa: Float64Array;
  /** Saturation at the air and at the slab. */
  readonly fullPa: Float64Array;
  readonly onSlabPa: Float64Array;
  readonly outdoorPa: Float64Array;
  readonly meanGoods: number;
}

interface Ran {
  readonly pa: number;
  readonly goods: number;
  readonly meanK: number;
  readonly missK: number;
}

interface Shape {
  readonly leakPerH: number;
  readonly goodsPerH: number;
  readonly goodsH: number;
}

/** Near 10 °C the dew point moves by so much for a relative change of vapour pressure, K. */
const DEW_K_PER_SHARE = 14.6;
const SETTLED = 1 - Math.exp(-SETTLES_PER_H * STEP_H);

function run(day: Day, { leakPerH, goodsPerH, goodsH }: Shape, sourcePaPerH: number): Ran {
  let pa = day.pa[day.first] as number;
  let goods = day.meanGoods;
  const total = leakPerH + goodsPerH;
  const kept = Math.exp(-total * STEP_H);
  let count = 0;
  let sum = 0;
  let squares = 0;
  for (let step = day.first + 1; step <= PAST_STEPS; step++) {
    const full = day.fullPa[step] as number;
    const goal = (leakPerH * (day.outdoorPa[step] as number) + goodsPerH * goods * full + sourcePaPerH) / total;
    pa = Math.max(20, goal + (pa - goal) * kept);
    const onSlab = day.onSlabPa[step] as number;
    if (pa > onSlab) pa -= (pa - onSlab) * SETTLED;
    goods += ((pa / full - goods) * STEP_H) / goodsH;
    if (Number.isNaN(day.heard[step] as number)) continue;
    const saidPa = day.pa[step] as number;
    const missK = (DEW_K_PER_SHARE * (saidPa - pa)) / saidPa;
    count++;
    sum += missK;
    squares += missK * missK;
  }
  return {
    pa,
    goods,
    meanK: count > 0 ? sum / count : 0,
    missK: count > 0 ? Math.sqrt(squares / count) : 1,
  };
}

const SHAPES: readonly Shape[] = Array.from({ length: CANDIDATES }, (_, index) => ({
  leakPerH: 0.12 * 25 ** (DRAW.leak[index] as number),
  goodsPerH: 2.5 * (DRAW.goods[index] as number) ** 2,
  goodsH: 3 * 8 ** (DRAW.slow[index] as number),
}));

/** Fits each candidate's source, then weighs it. `outdoorDewC` null = outdoors is not known. */
export function fitMoisture(
  dewC: Float64Array,
  airC: Float64Array,
  slabC: Float64Array,
  outdoorDewC: Float64Array | null,
): MoistureCandidate[] {
  const dew = bridged(dewC);
  const air = bridged(airC);
  const slab = bridged(slabC);
  if (dew === null || air === null || slab === null) return [];
  const first = Math.min(
    PAST_STEPS,
    Math.max(PAST_STEPS - STEPS_PER_DAY, firstKnown(dewC), firstKnown(airC), firstKnown(slabC)),
  );
  const pa = dew.map(saturatedPa);
  const fullPa = air.map(saturatedPa);
  const share = 1 / (PAST_STEPS + 1 - first);
  let meanPa = 0;
  let meanGoods = 0;
  for (let step = first; step <= PAST_STEPS; step++) {
    meanPa += (pa[step] as number) * share;
    meanGoods += ((pa[step] as number) / (fullPa[step] as number)) * share;
  }
  // Without the outdoors nothing tells a leak from a store: all are believed, each in balance with what stands now.
  if (outdoorDewC === null) {
    const goods = Math.min(1, (pa[PAST_STEPS] as number) / (fullPa[PAST_STEPS] as number));
    return SHAPES.map((shape) => ({ ...shape, sourcePaPerH: 0, goods, missK: 1, belief: 1 }));
  }
  const outdoorPa = outdoorDewC.map(saturatedPa);
  const day: Day = { first, heard: dewC, pa, fullPa, onSlabPa: slab.map(saturatedPa), outdoorPa, meanGoods };
  return SHAPES.map((shape) => {
    // The mean error is nearly straight in the source: two runs find it, a third is the fit.
    const tryPa = 0.1 * meanPa * (shape.leakPerH + shape.goodsPerH);
    const none = run(day, shape, 0);
    const slope = (run(day, shape, tryPa).meanK - none.meanK) / tryPa;
    const wanted = slope === 0 ? 0 : -none.meanK / slope;
    const sourcePaPerH = Math.max(-0.5 * meanPa, Math.min(3 * meanPa, wanted));
    const best = run(day, shape, sourcePaPerH);
    return {
      ...shape,
      sourcePaPerH,
      goods: best.goods,
      missK: best.missK,
      belief: Math.exp(-0.5 * INDEPENDENT * (best.missK / BELIEF_K) ** 2),
    };
  });
}
