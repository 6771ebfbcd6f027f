// How big a mix may be, and into which batches the need of a coat is cut.
import { demandFinite, demandPositive } from "#core/guard.ts";
import { kitsFor, needLOf, useLPerM2 } from "#core/takeoff/coverage.ts";
import type { Material } from "#core/takeoff/material.ts";
import { floorLifeMin, NO_PAIL_ABOVE_C, potLifeMin } from "#core/takeoff/pot-life.ts";

/** A batch is out of the pail in this share of its life. Common practice, no source. */
const LIFE_USED = 0.6;
const HALVINGS = 60;
/** More mixes than this are no plan for one coat of one zone. */
const MOST_MIXES = 2000;

/** What a batch is reckoned with. */
export interface BatchTerms {
  readonly resinC: number;
  /** What the crew lays, m²/h. */
  readonly placeM2PerH: number;
}

export interface Batches {
  readonly capL: number;
  /** In the order in which they are mixed. */
  readonly volumesL: readonly number[];
  /** Whole kits of each; null where kits are split or unknown. */
  readonly kitsEach: readonly number[] | null;
  /** Minutes that the biggest of them lives in one pail. */
  readonly lifeMin: number;
  /** One kit is more than may stay in a pail: it goes out on the floor at once. */
  readonly pourOutAtOnce: boolean;
  /** A batch is more than the crew lays within the life that it has on the floor. */
  readonly outrunsCrew: boolean;
}

/** Life that counts for a batch of `volumeL`: in the pail, and where the floor ends it, on the floor. */
function workingMin(material: Material, resinC: number, volumeL: number): number | null {
  const pail = potLifeMin(material, resinC, volumeL);
  if (pail === null || material.potClass !== "film-limited") return pail;
  return Math.min(pail, floorLifeMin(material, resinC) ?? pail);
}

/**
 * The biggest batch, L, that the crew empties within 0.6 of its life: a bigger pail dies sooner, so the size at which both
 * agree. 0 where a massed mix is too hot for any pail; null where the sheet does not tell use or pot life.
 * Throws RangeError unless `resinC` is a number and the rate is above zero.
 */
export function batchCapL(material: Material, { resinC, placeM2PerH }: BatchTerms): number | null {
  demandFinite("resinC", resinC);
  demandPositive("placeM2PerH", placeM2PerH);
  const use = useLPerM2(material);
  if (use === null || workingMin(material, resinC, 1) === null) return null;
  if (material.potClass === "mass-limited" && resinC > NO_PAIL_ABOVE_C) return 0;
  const layLPerMin = (placeM2PerH / 60) * use;
  const laidL = (volumeL: number) => LIFE_USED * layLPerMin * (workingMin(material, resinC, volumeL) as number);
  // Life never grows with the volume, so what can be laid of a drop bounds the answer from above.
  let low = 0;
  let high = laidL(Number.MIN_VALUE);
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (low + high) / 2;
    if (middle <= laidL(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function wholeKits(capL: number, kitL: number, needL: number) {
  const kits = kitsFor(needL, kitL);
  const most = Math.max(1, Math.floor(capL / kitL + 1e-9));
  const mixes = Math.ceil(kits / most);
  // As even as whole kits allow, the bigger ones first.
  const least = Math.floor(kits / mixes);
  const bigger = kits - least * mixes;
  return mixes > MOST_MIXES ? null : Array.from({ length: mixes }, (_, index) => least + (index < bigger ? 1 : 0));
}

/**
 * The batches of a coat: whole kits together, or even parts where kits may be split or none are sold. Together they are
 * the need, or the kits that hold it. null where the cap is unknown, or no batch can be mixed: zero without whole kits, or
 * more mixes than anybody makes.
 */
export function batchesOf(material: Material, areaM2: number, terms: BatchTerms): Batches | null {
  const needL = needLOf(material, areaM2);
  const capL = batchCapL(material, terms);
  if (needL === null || capL === null) return null;
  const whole = material.kitL !== undefined && material.splitKits !== true ? material.kitL : null;
  const kitsEach = whole === null ? null : wholeKits(capL, whole, needL);
  if (whole === null && !(capL > 0 && needL / capL <= MOST_MIXES)) return null;
  if (whole !== null && kitsEach === null) return null;
  const mixes = Math.ceil(needL / capL - 1e-9);
  const volumesL =
    kitsEach === null || whole === null
      ? Array.from({ length: Math.max(1, mixes) }, () => needL / Math.max(1, mixes))
      : kitsEach.map((kits) => kits * whole);
  const biggestL = Math.max(...volumesL);
  const pourOutAtOnce = biggestL > capL * (1 + 1e-9);
  const sumL = volumesL.reduce((sum, volumeL) => sum + volumeL, 0);
  const layMin = ((areaM2 * biggestL) / sumL / terms.placeM2PerH) * 60;
  const onFloor = floorLifeMin(material, terms.resinC);
  return {
    capL,
    volumesL,
    kitsEach,
    lifeMin: potLifeMin(material, terms.resinC, biggestL) as number,
    pourOutAtOnce,
    outrunsCrew: onFloor !== null && layMin > onFloor,
  };
}
