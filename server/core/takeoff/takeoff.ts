// What each coat of a zone takes: litres, kits, batches, people and hours; and the order list of a site.
import type { Sheet } from "#core/cure/sheet.ts";
import { type Batches, batchesOf } from "#core/takeoff/batch.ts";
import { kitsFor, needLOf, useLPerM2 } from "#core/takeoff/coverage.ts";
import { abradeHours, type Crew, placeM2PerHOf } from "#core/takeoff/crew.ts";
import type { Material } from "#core/takeoff/material.ts";
import { type MaterialDoubt, materialDoubts } from "#core/takeoff/material-check.ts";

/** A mix for which the sheet prints no minutes is stirred this long: 2 to 3 min is usual. US federal guide specification. */
export const USUAL_MIX_MIN = 3;

/** What a sheet leaves open, so that something cannot be reckoned. */
export type Missing = "material" | "use" | "kit" | "pot-life" | "resin-temp" | "batch";

export interface CoatTakeoff {
  readonly coat: number;
  readonly sheet: Sheet;
  readonly useLPerM2: number | null;
  readonly needL: number | null;
  readonly kits: number | null;
  readonly batches: Batches | null;
  readonly placeM2PerH: number;
  readonly placeH: number;
  readonly people: number | null;
  /** People for mixing alone, so that a batch is ready when the one before is laid; null without batches. */
  readonly mixers: number | null;
  readonly personH: number | null;
  /** Person-hours of abrading the coat below, should its window close; null on a bare slab. */
  readonly abrade: { readonly fewest: number; readonly most: number } | null;
  readonly doubts: readonly MaterialDoubt[];
  readonly missing: readonly Missing[];
}

/** A zone as the takeoff sees it; `resinC` null = nothing is known of the temperature of the resin. */
export interface Floor {
  readonly areaM2: number;
  readonly crew: Crew;
  readonly resinC: number | null;
}

/** Minutes of stirring and resting, as printed or as usual. */
export function mixTimesOf(material: Material): { readonly mixMin: number; readonly restMin: number } {
  return { mixMin: material.mixMin ?? USUAL_MIX_MIN, restMin: material.restMin ?? 0 };
}

function missingOf(material: Material, resinC: number | null, batches: Batches | null): Missing[] {
  const missing: Missing[] = [];
  const use = useLPerM2(material);
  if (use === null) missing.push("use");
  if (material.kitL === undefined) missing.push("kit");
  if ((material.potLife ?? []).length === 0) missing.push("pot-life");
  else if (resinC === null) missing.push("resin-temp");
  else if (use !== null && batches === null) missing.push("batch");
  return missing;
}

/** One coat of a zone. Throws RangeError when area or rate is not above zero. */
export function coatTakeoff(coat: number, sheet: Sheet, { areaM2, crew, resinC }: Floor): CoatTakeoff {
  const material = sheet.material ?? {};
  const doubts = materialDoubts(material);
  const sound = doubts.length === 0;
  const placeM2PerH = placeM2PerHOf(material, crew);
  const placeH = areaM2 / placeM2PerH;
  const people = crew.people ?? material.people ?? null;
  const needL = sound ? needLOf(material, areaM2) : null;
  const batches = sound && resinC !== null ? batchesOf(material, areaM2, { resinC, placeM2PerH }) : null;
  const everyMin = batches === null ? null : (placeH * 60) / batches.volumesL.length;
  return {
    coat,
    sheet,
    useLPerM2: sound ? useLPerM2(material) : null,
    needL,
    kits: needL === null || material.kitL === undefined ? null : kitsFor(needL, material.kitL),
    batches,
    placeM2PerH,
    placeH,
    people,
    mixers: everyMin === null ? null : Math.ceil(mixTimesOf(material).mixMin / everyMin),
    personH: people === null ? null : people * placeH,
    abrade: coat === 0 ? null : abradeHours(areaM2),
    doubts,
    missing: sheet.material === undefined ? ["material"] : sound ? missingOf(material, resinC, batches) : [],
  };
}

/** One line of the order list. */
export interface OrderLine {
  readonly sheet: Sheet;
  readonly areaM2: number;
  /** null where the use of one of its coats is unknown. */
  readonly needL: number | null;
  readonly kits: number | null;
  readonly coats: number;
}

/** A coat of some zone that is still to come. */
export interface CoatToCome {
  readonly areaM2: number;
  readonly takeoff: CoatTakeoff;
}

/**
 * The coats to come, summed by sheet. A kit that may not be split is used up by the coat that opened it, so kits are summed
 * coat by coat; kits that may be split are bought for all coats together.
 */
export function orderOf(coats: readonly CoatToCome[]): readonly OrderLine[] {
  const bySheet = new Map<string, CoatToCome[]>();
  for (const coat of coats) {
    const { id } = coat.takeoff.sheet;
    bySheet.set(id, [...(bySheet.get(id) ?? []), coat]);
  }
  return [...bySheet.values()].map((all) => {
    const { sheet } = (all[0] as CoatToCome).takeoff;
    const sum = (of: (takeoff: CoatTakeoff) => number | null) =>
      all.reduce<number | null>((total, { takeoff }) => {
        const value = of(takeoff);
        return total === null || value === null ? null : total + value;
      }, 0);
    const needL = sum((takeoff) => takeoff.needL);
    const kitL = sheet.material?.kitL;
    const split = sheet.material?.splitKits === true && needL !== null && kitL !== undefined;
    return {
      sheet,
      areaM2: all.reduce((total, { areaM2 }) => total + areaM2, 0),
      needL,
      kits: split ? kitsFor(needL, kitL) : sum((takeoff) => takeoff.kits),
      coats: all.length,
    };
  });
}
