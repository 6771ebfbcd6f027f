// A sheet: the limits and times of one product, typed by a person from its data sheet.
import type { Material } from "#core/takeoff/material.ts";

/** A step of surface work, in the order in which a sheet asks for it. */
export type Step = "wash" | "abrade" | "clean";

/** A closed range; null on a side = the sheet gives no limit there. */
export type Range = readonly [min: number | null, max: number | null];

/** Hours from the data sheet at one surface temperature; null = not printed on the sheet. */
export interface CureRow {
  readonly slabC: number;
  readonly recoatFromH: number | null;
  readonly recoatUntilH: number | null;
  readonly dewSafeH: number | null;
  readonly footH: number | null;
  readonly trafficH: number | null;
}

export type Milestone = "recoatFromH" | "recoatUntilH" | "dewSafeH" | "footH" | "trafficH";

/** The conditions under which the product may be laid. `dewMarginK` is a temperature difference. */
export interface SheetLimits {
  readonly slabC: Range;
  readonly airC: Range;
  readonly rhPct: Range;
  readonly waterGPerKg: Range;
  readonly dewMarginK: number;
  readonly resinC: Range;
  /** In-slab relative humidity (ASTM F2170), percent; null = not asked. */
  readonly slabRhMaxPct: number | null;
  /** Vapour emission (ASTM F1869), lb per 1000 ft2 per 24 h; null = not asked. */
  readonly slabMverMaxLb: number | null;
}

/** Hours after which a crack filler is hard at one slab temperature. */
export interface HardRow {
  readonly slabC: number;
  readonly hardH: number;
}

/** Somebody has held the typed numbers against the page. `same`: the one who typed them. */
export interface Confirmation {
  readonly by: string | null;
  /** ISO 8601. */
  readonly at: string;
  readonly same: boolean;
}

/** Which saving of its numbers this is, counted from 1. `corrects`: the one before was a slip of typing. */
export interface SavedMark {
  readonly revision: number;
  readonly corrects?: boolean;
}

export interface Sheet {
  readonly id: string;
  readonly name: string;
  /** Absent = coat. A filler has hours to hard, and is no coat of a system. */
  readonly kind?: "coat" | "filler";
  readonly hard?: readonly HardRow[];
  /** null = nobody has: the sheet is no limit, and the zone waits. Absent = typed before that was asked for. */
  readonly confirmed?: Confirmation | null;
  readonly saved?: SavedMark;
  readonly limits: SheetLimits;
  readonly cure: readonly CureRow[];
  /** `closes`: a recoat maximum exists; `open`: the film may be recoated at any later time. */
  readonly window: "closes" | "open";
  /** A full broadcast lifts the recoat maximum. */
  readonly broadcastWaiver: boolean;
  /** The base is no longer porous once this coat is down. */
  readonly seals: boolean;
  /** Steps after blush, in order. */
  readonly afterBlush: readonly Step[];
  /** What it takes and how it is mixed: the call knows of it the size of a batch, and solvent, which makes humidity chips less sure. */
  readonly material?: Material;
}
