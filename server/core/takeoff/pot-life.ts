// How long a mix lives in the pail: the printed minutes at the temperature of the resin and the size of the batch.
import { demandFinite, demandPositive } from "#core/guard.ts";
import type { Material, PotLifeRow } from "#core/takeoff/material.ts";
import { lFromUsGal } from "#core/units.ts";

/** Printed on 100 to 200 g: up to this volume a mix lives as long as it is printed. */
const SMALL_L = 0.2;
/** Life of massed epoxy over the printed one: 0.5 at 1 US gal, 0.4 at 3, 0.3 at 5. Common practice, no source. */
const MASS_POINTS = [
  { volumeL: SMALL_L, factor: 1 },
  { volumeL: lFromUsGal(1), factor: 0.5 },
  { volumeL: lFromUsGal(3), factor: 0.4 },
  { volumeL: lFromUsGal(5), factor: 0.3 },
] as const;
/** Life halves with every 10 K (18 °F): US federal guide specification; of the temperature of the material, not the slab. */
const HALVING_PER_K = Math.LN2 / 10;
/** Resin colder than any printed row lives longer, but never more than twice: promised is what shortens. */
const COLD_CREDIT = 2;
/** Above 85 °F a pail of massed resin has no life to count on: it is poured out at once. Common practice, no source. */
export const NO_PAIL_ABOVE_C = 29.4;
/** Where a mass was tested and no density is known: the heaviest usual mix, so that the test counts as small. */
const HEAVY_KG_PER_L = 2;

/** Life of `volumeL` in one pail over the life of a small test: 1 up to 0.2 L, in log of volume between the points. */
export function massFactor(volumeL: number): number {
  demandPositive("volumeL", volumeL);
  if (volumeL <= SMALL_L) return 1;
  for (let index = 1; index < MASS_POINTS.length; index++) {
    const low = MASS_POINTS[index - 1] as (typeof MASS_POINTS)[number];
    const high = MASS_POINTS[index] as (typeof MASS_POINTS)[number];
    if (volumeL <= high.volumeL) {
      const share = Math.log(volumeL / low.volumeL) / Math.log(high.volumeL / low.volumeL);
      return low.factor + (high.factor - low.factor) * share;
    }
  }
  // Beyond 5 gal nothing is known: it falls as the volume grows.
  const last = MASS_POINTS.at(-1) as (typeof MASS_POINTS)[number];
  return (last.factor * last.volumeL) / volumeL;
}

function testedL(row: PotLifeRow, densityKgPerL: number | undefined): number {
  if (row.volumeL !== undefined) return row.volumeL;
  return row.massKg === undefined ? SMALL_L : row.massKg / (densityKgPerL ?? HEAVY_KG_PER_L);
}

/** ln(minutes) of rows, coldest first, at `resinC`. */
function lnMinAt(rows: readonly { readonly resinC: number; readonly ln: number }[], resinC: number, credit: boolean) {
  const first = rows[0] as (typeof rows)[number];
  const last = rows.at(-1) as (typeof rows)[number];
  const fall = (a: typeof first, b: typeof first) => (a.ln - b.ln) / (b.resinC - a.resinC);
  if (resinC <= first.resinC) {
    if (!credit) return first.ln;
    const next = rows[1];
    const perK = next === undefined ? HALVING_PER_K : Math.max(0, Math.min(HALVING_PER_K, fall(first, next)));
    return first.ln + Math.min(Math.log(COLD_CREDIT), perK * (first.resinC - resinC));
  }
  if (resinC >= last.resinC) {
    const before = rows.at(-2);
    const perK = before === undefined ? HALVING_PER_K : Math.max(HALVING_PER_K, fall(before, last));
    return last.ln - perK * (resinC - last.resinC);
  }
  const upper = rows.findIndex((row) => row.resinC >= resinC);
  const high = rows[upper] as (typeof rows)[number];
  const low = rows[upper - 1] as (typeof rows)[number];
  return low.ln - fall(low, high) * (resinC - low.resinC);
}

/**
 * Minutes that `volumeL` of the mix live in one pail at `resinC`; null where the sheet prints none. 0 for a massed mix above
 * 29.4 °C. Between rows log(minutes) is linear in temperature. Only a mass-limited mix lives shorter in bulk, measured
 * against the volume that was tested and never longer than printed.
 */
export function potLifeMin(material: Material, resinC: number, volumeL: number): number | null {
  demandFinite("resinC", resinC);
  const { potLife = [], potClass, densityKgPerL } = material;
  if (potLife.length === 0 || potClass === undefined) return null;
  const massed = potClass === "mass-limited";
  if (massed && volumeL > SMALL_L && resinC > NO_PAIL_ABOVE_C) return 0;
  const rows = [...potLife]
    .sort((a, b) => a.resinC - b.resinC)
    .map((row) => {
      const bulk = massed ? Math.min(1, massFactor(volumeL) / massFactor(testedL(row, densityKgPerL))) : 1;
      return { resinC: row.resinC, ln: Math.log(row.min * bulk) };
    });
  // A dose is chosen for the temperature: cold is no reason to count on more.
  return Math.exp(lnMinAt(rows, resinC, potClass !== "dose-set"));
}

/** Minutes in which a mix that lies thin on the floor can be worked; null where nothing tells. Never longer in the cold. */
export function floorLifeMin(material: Material, resinC: number): number | null {
  const thin = potLifeMin(material, resinC, SMALL_L);
  if (material.floorMin === undefined) return thin;
  return thin === null ? material.floorMin : Math.min(material.floorMin, thin);
}
