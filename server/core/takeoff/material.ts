// The material of a sheet: what covers, how it is mixed, how long it lives in the pail. Typed by a person; all of it optional.

/** A component of the mix. */
export interface MixPart {
  readonly name: string;
  /** Parts of it in the mix, by volume or by mass as `Mix.by` says. */
  readonly share: number;
  /** What one kit holds of it, L. */
  readonly kitL?: number;
  /** kg/L; asked for where parts by mass are measured out by volume. */
  readonly densityKgPerL?: number;
}

export interface Mix {
  readonly by: "volume" | "mass";
  readonly parts: readonly MixPart[];
}

/** Minutes in the pail as printed, at the temperature of the resin, and how much resin was tested. */
export interface PotLifeRow {
  readonly resinC: number;
  readonly min: number;
  /** One of the two, or neither where the sheet does not say. */
  readonly massKg?: number;
  readonly volumeL?: number;
}

/**
 * What ends the life of a mix. `mass-limited`: its own heat, the more the bigger the pail (epoxy). `film-limited`: the floor,
 * not the pail (polyaspartic, moisture-cured urethane). `long-pot`: hours (solvent and waterborne). `dose-set`: the dose of
 * peroxide (MMA).
 */
export type PotClass = "mass-limited" | "film-limited" | "long-pot" | "dose-set";

/** What the product's safety sheet warns of; the cautions beside the steps follow from it. */
export type Hazard = "amine" | "isocyanate" | "solvent" | "peroxide";

export interface Material {
  /** Use on a smooth, closed base, L/m²: as a rate, or from a film; not both. 1 L/m² is a wet film of 1 mm. */
  readonly wetLPerM2?: number;
  /** Dry film, µm; with `solidsPct`, the volume solids. */
  readonly dryFilmUm?: number;
  /** Volume solids, percent; absent = 100. */
  readonly solidsPct?: number;
  /** More for the texture of the base, percent of the use. */
  readonly texturePct?: number;
  /** More for pores, percent of the use. */
  readonly porosityPct?: number;
  /** More for what stays in pails and rollers, percent of all. */
  readonly wastePct?: number;
  /** Mixed. */
  readonly densityKgPerL?: number;
  readonly mix?: Mix;
  /** Mixed volume of one kit, L. */
  readonly kitL?: number;
  /** The sheet allows less than a whole kit to be mixed. */
  readonly splitKits?: boolean;
  readonly mixMin?: number;
  /** Rest after mixing, before it is laid. */
  readonly restMin?: number;
  readonly potClass?: PotClass;
  readonly potLife?: readonly PotLifeRow[];
  /** Minutes on the floor until it can no longer be worked. */
  readonly floorMin?: number;
  /** What a crew of `people` lays of it, m²/h. */
  readonly placeM2PerH?: number;
  readonly people?: number;
  readonly hazards?: readonly Hazard[];
}
