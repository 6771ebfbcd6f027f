// The building around the floor, as a heater meets it: what it loses, how much air it changes, what it must warm along.
import { demandPositive } from "#core/guard.ts";

/** How the numbers came about: fitted to the readings, given by a person, or guessed from the class of the building. */
export type BuildingBasis = "measured" | "stated" | "rough";
export type BuildingClass = "tight" | "loose" | "open";

export interface BuildingHeat {
  /** Heat lost to the outdoors through shell and leaks together, per kelvin of inside above outside; not into the slab. */
  readonly lossWPerK: number;
  /** Air changes per hour with the outdoors: they carry moisture away. Their heat is part of `lossWPerK`. */
  readonly airChangesPerH: number;
  readonly volumeM3: number;
  readonly floorM2: number;
  readonly heightM: number;
  /** Inner skins and what stands in the room: warmed along with the air. */
  readonly wallMassJPerK: number;
  /** Between the air and that mass. */
  readonly wallWPerK: number;
  readonly basis: BuildingBasis;
}

/** Heat of a cubic metre of air per kelvin and air change an hour, W: 0.33, the usual rounded figure of the trade. */
const LEAK_W_PER_M3_K = 0.33;
/** A work hall when nobody says how high. Common practice, no source. */
const USUAL_HEIGHT_M = 4.5;
/** Air film inside a wall, W/(m² K), and heat of inner skin and of things on the floor, J/(m² K). Common practice, no source. */
const INNER_FILM_W_PER_M2K = 5;
const SKIN_J_PER_M2K = 10_000;
const CONTENTS_J_PER_M2K = 20_000;

/**
 * U of the shell, W/(m² K), and air changes per hour. Insulated panel of 2 in about 0.57, bare metal 6 to 7: figures of the
 * trade (field manuals); the mix of both in a loose building and all air changes: common practice, no source.
 */
const CLASSES: Record<BuildingClass, { readonly shellWPerM2K: number; readonly airChangesPerH: number }> = {
  tight: { shellWPerM2K: 0.57, airChangesPerH: 0.5 },
  loose: { shellWPerM2K: 2.5, airChangesPerH: 1.5 },
  open: { shellWPerM2K: 6.5, airChangesPerH: 4 },
};

/** Heat that leaks carry away, W per K: 0.33 x m³ x air changes an hour. */
export function leakWPerK(volumeM3: number, airChangesPerH: number): number {
  return LEAK_W_PER_M3_K * volumeM3 * airChangesPerH;
}

/** A building of a class over a square floor; within a factor of two, which is why it is called rough. */
export function roughBuilding(kind: BuildingClass, floorM2: number, heightM: number = USUAL_HEIGHT_M): BuildingHeat {
  demandPositive("floorM2", floorM2);
  demandPositive("heightM", heightM);
  const { shellWPerM2K, airChangesPerH } = CLASSES[kind];
  const shellM2 = floorM2 + 4 * Math.sqrt(floorM2) * heightM;
  const volumeM3 = floorM2 * heightM;
  return {
    lossWPerK: shellWPerM2K * shellM2 + leakWPerK(volumeM3, airChangesPerH),
    airChangesPerH,
    volumeM3,
    floorM2,
    heightM,
    wallMassJPerK: SKIN_J_PER_M2K * shellM2 + CONTENTS_J_PER_M2K * floorM2,
    wallWPerK: INNER_FILM_W_PER_M2K * shellM2,
    basis: "rough",
  };
}

/** The same with numbers that a person gave. */
export function statedBuilding(kind: BuildingClass, floorM2: number, heightM?: number): BuildingHeat {
  return { ...roughBuilding(kind, floorM2, heightM), basis: "stated" };
}
