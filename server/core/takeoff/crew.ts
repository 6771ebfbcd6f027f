// People and hours of a coat: laying it, and abrading the floor where it must be.
import { demandPositive } from "#core/guard.ts";
import type { Material } from "#core/takeoff/material.ts";
import { m2FromFt2, mFromFt } from "#core/units.ts";

/** One walk-behind machine abrades 150 to 300 ft² an hour, one person 25 to 50 ft of edge. Common practice, no source. */
const MACHINE_M2_PER_H = { slow: m2FromFt2(150), fast: m2FromFt2(300) } as const;
const EDGE_M_PER_H = { slow: mFromFt(25), fast: mFromFt(50) } as const;

/** What is known of the crew of a zone. */
export interface Crew {
  readonly pourM2PerH: number;
  readonly people?: number;
}

/**
 * m²/h that a crew lays of a product: what was said of the zone, or what the sheet says of so many people, whichever is
 * slower. A sheet's rate counts for the people at hand where both numbers are known.
 */
export function placeM2PerHOf({ placeM2PerH, people }: Material, crew: Crew): number {
  demandPositive("pourM2PerH", crew.pourM2PerH);
  if (placeM2PerH === undefined) return crew.pourM2PerH;
  const share = people === undefined || crew.people === undefined ? 1 : crew.people / people;
  return Math.min(crew.pourM2PerH, placeM2PerH * share);
}

/**
 * Person-hours of abrading `areaM2`, fewest and most. The edge is that of a square, the shortest that such an area can
 * have: many rooms take longer.
 */
export function abradeHours(areaM2: number): { readonly fewest: number; readonly most: number } {
  demandPositive("areaM2", areaM2);
  const edgeM = 4 * Math.sqrt(areaM2);
  return {
    fewest: areaM2 / MACHINE_M2_PER_H.fast + edgeM / EDGE_M_PER_H.fast,
    most: areaM2 / MACHINE_M2_PER_H.slow + edgeM / EDGE_M_PER_H.slow,
  };
}
