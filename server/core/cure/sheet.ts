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

export interface Sheet {
  readonly id: string;
  readonly name: string;
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
  /** What it takes and how it is mixed: enters the call only as the size of a batch. */
  readonly material?: Material;
}
