// How much of a product a floor takes, and in how many kits.
import { demandPositive } from "#core/guard.ts";
import type { Material } from "#core/takeoff/material.ts";

/** Rounding of a product of factors must not buy a kit more: this share of a kit is no kit. */
const KIT_EPSILON = 1e-9;

/**
 * Use on this base, L/m²: rate, or dry film over volume solids (1 L/m² = 1 mm wet), more by texture and pores. Waste is not
 * in it. null where the sheet tells neither rate nor film.
 */
export function useLPerM2(material: Material): number | null {
  const { wetLPerM2, dryFilmUm, solidsPct = 100, texturePct = 0, porosityPct = 0 } = material;
  const smooth = wetLPerM2 ?? (dryFilmUm === undefined ? null : dryFilmUm / 1000 / (solidsPct / 100));
  return smooth === null ? null : smooth * (1 + (texturePct + porosityPct) / 100);
}

/** What must be mixed for `areaM2`, L, waste included; null where the use is unknown. Throws RangeError on a bad area. */
export function needLOf(material: Material, areaM2: number): number | null {
  demandPositive("areaM2", areaM2);
  const use = useLPerM2(material);
  return use === null ? null : areaM2 * use * (1 + (material.wastePct ?? 0) / 100);
}

/** Whole kits that hold `needL`: a part of a kit is a kit. Throws RangeError unless both are above zero. */
export function kitsFor(needL: number, kitL: number): number {
  demandPositive("needL", needL);
  demandPositive("kitL", kitL);
  return Math.max(1, Math.ceil(needL / kitL - KIT_EPSILON));
}
