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
  /** What is left after a step of a departure from what leaks, goods and sources come to. */
  readonly kept: number;
}

/** Near 10 °C the dew point moves by so much for a relative change of vapour pressure, K. */
const DEW_K_PER_SHARE = 14.6;
const SETTLED = 1 - Math.exp(-SETTLES_PER_H * STEP_H);

const LENGTH = PAST_STEPS + 1;
/**
 * Columns of the last day in one piece of memory (columns.ts): vapour outdoors; saturation at the air and its inverse; at
 * the slab; what is said, and the dew point's miss for each Pa of it. Pa, 1/Pa, K/Pa.
 */
const DAY = {
  outdoorPa: 0,
  fullPa: LENGTH,
  perFull: 2 * LENGTH,
  onSlabPa: 3 * LENGTH,
  saidPa: 4 * LENGTH,
  missPerPa: 5 * LENGTH,
} as const;

interface Day {
  readonly first: number;
  readonly memory: Float64Array;
  readonly meanGoods: number;
  /** Steps at which a dew point was heard. */
  readonly heard: number;
}

const at = (column: Float64Array, place: number) => column[place] as number;

/** Each step waits for vapour and goods of the last one: whatever these are multiplied by stands ready. */
function run({ first, memory, meanGoods, heard }: Day, shape: Shape, sourcePaPerH: number): Ran {
  const { leakPerH, goodsPerH, goodsH, kept } = shape;
  const perH = (1 - kept) / (leakPerH + goodsPerH);
  const ofOutdoors = leakPerH * perH;
  const ofGoods = goodsPerH * perH;
  const ofSources = sourcePaPerH * perH;
  const goodsTake = STEP_H / goodsH;
  const goodsKeep = 1 - goodsTake;
  let pa = at(memory, DAY.saidPa + first);
  let goods = 1 * meanGoods;
  let sum = 0;
  let squares = 0;
  for (let step = first + 1; step <= PAST_STEPS; step++) {
    const blown = ofSources + ofOutdoors * at(memory, DAY.outdoorPa + step);
    pa = blown + kept * pa + ofGoods * at(memory, DAY.fullPa + step) * goods;
    if (pa < 20) pa = 20;
    const onSlab = at(memory, DAY.onSlabPa + step);
    if (pa > onSlab) pa -= (pa - onSlab) * SETTLED;
    goods = goodsKeep * goods + goodsTake * at(memory, DAY.perFull + step) * pa;
    const missK = (at(memory, DAY.saidPa + step) - pa) * at(memory, DAY.missPerPa + step);
    sum += missK;
    squares += missK * missK;
  }
  return {
    pa,
    goods,
    meanK: heard > 0 ? sum / heard : 0,
    missK: heard > 0 ? Math.sqrt(squares / heard) : 1,
  };
}

const SHAPES: readonly Shape[] = Array.from({ length: CANDIDATES }, (_, index) => {
  const leakPerH = 0.12 * 25 ** (DRAW.leak[index] as number);
  const goodsPerH = 2.5 * (DRAW.goods[index] as number) ** 2;
  const goodsH = 3 * 8 ** (DRAW.slow[index] as number);
  return { leakPerH, goodsPerH, goodsH, kept: Math.exp(-(leakPerH + goodsPerH) * STEP_H) };
});

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
  const memory = new Float64Array(6 * LENGTH);
  let heard = 0;
  const share = 1 / (PAST_STEPS + 1 - first);
  let meanPa = 0;
  let meanGoods = 0;
  for (let step = first; step <= PAST_STEPS; step++) {
    const saidPa = saturatedPa(at(dew, step));
    const fullPa = saturatedPa(at(air, step));
    memory[DAY.saidPa + step] = saidPa;
    memory[DAY.fullPa + step] = fullPa;
    memory[DAY.perFull + step] = 1 / fullPa;
    memory[DAY.onSlabPa + step] = saturatedPa(at(slab, step));
    memory[DAY.outdoorPa + step] = outdoorDewC === null ? Number.NaN : saturatedPa(at(outdoorDewC, step));
    // What was not heard is missed by nothing.
    if (!Number.isNaN(at(dewC, step))) memory[DAY.missPerPa + step] = DEW_K_PER_SHARE / saidPa;
    if (!Number.isNaN(at(dewC, step)) && step > first) heard++;
    meanPa += saidPa * share;
    meanGoods += (saidPa / fullPa) * share;
  }
  // Without the outdoors nothing tells a leak from a store: all are believed, each in balance with what stands now.
  if (outdoorDewC === null) {
    const goods = Math.min(1, at(memory, DAY.saidPa + PAST_STEPS) / at(memory, DAY.fullPa + PAST_STEPS));
    return SHAPES.map((shape) => ({ ...shape, sourcePaPerH: 0, goods, missK: 1, belief: 1 }));
  }
  const day: Day = { first, memory, meanGoods, heard };
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
