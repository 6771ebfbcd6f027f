// The journal: the append-only list of what people did and saw. Corrections are new entries.
import type { Outline } from "#core/plan/polygon.ts";
import type { Salt } from "#core/air/salt-points.ts";

export type Surface = "clean" | "greasy" | "dusty" | "damp" | "dry";
export type Film = "hard" | "soft";
export type Fuel = "propane" | "natural-gas" | "kerosene" | "diesel" | "electric" | "other";

interface Entry {
  readonly id: string;
  /** When it happened. */
  readonly atMs: number;
  /** When the log learnt of it; a call before this time does not know it. */
  readonly heardMs: number;
  /** null = the whole site (heating, forecast). */
  readonly zone: string | null;
  readonly by: string | null;
  /** The id of an entry that this one takes back. */
  readonly undoes?: string;
  /** Why it is taken back, or what a person wants to add. */
  readonly why?: string;
}

/** A batch number as it stands on the pail; `part` names the component. */
export interface Batch {
  readonly part?: string;
  readonly number: string;
}

export type AdhesionMethod = "D4541" | "D7234" | "C1583" | "EN1542" | "other";
export type AdhesionFailure = "concrete" | "within-coat" | "between" | "glue";
export type PhotoOf = "floor" | "sheet" | "probe" | "batch" | "test" | "finding";

/**
 * A step with solvent (wiping, washing, a solvent-borne coat). `confirmed`: somebody gave their word that no flame, heater
 * or spark was in the room and that it was ventilated.
 */
interface SolventStep {
  readonly solvent?: boolean;
  readonly confirmed?: boolean;
}

export interface SplitPart {
  readonly id: string;
  readonly name?: string;
  readonly areaM2: number;
  /** `node/quantity` names of the slab probes in this part; absent = all of the parent's. */
  readonly probes?: readonly string[];
  /** On the plan of the site. */
  readonly outline?: Outline;
}

export type JournalEntry = Entry &
  (
    | {
        readonly did: "poured";
        readonly coat: number;
        readonly fromMs: number;
        readonly toMs: number;
        readonly broadcast?: "full" | "partial";
        readonly product?: string;
        readonly batches?: readonly Batch[];
        readonly people?: readonly string[];
      }
    | ({ readonly did: "pouring"; readonly coat: number } & SolventStep)
    /** One mix of a coat, from the first turn of the mixer; `batches` = the numbers on its pails. The judge looks at none of it. */
    | {
        readonly did: "mixed";
        readonly coat: number;
        /** From 1. */
        readonly batch: number;
        readonly volumeL?: number;
        readonly batches?: readonly Batch[];
      }
    | { readonly did: "abraded"; readonly how?: string }
    | ({ readonly did: "washed" } & SolventStep)
    | ({ readonly did: "cleaned" } & SolventStep)
    | { readonly did: "inspected"; readonly surface?: Surface; readonly film?: Film }
    | {
        readonly did: "measured";
        readonly slabC?: number;
        readonly airC?: number;
        readonly rhPct?: number;
        readonly resinC?: number;
        readonly instrument?: string;
        /** Day of the instrument's last calibration, YYYY-MM-DD. */
        readonly calibratedOn?: string;
        /** The probe that the meter was held beside; absent = slab at the coldest one, air among all chips. */
        readonly probe?: string;
      }
    /** A humidity chip was closed in a bag with a saturated salt: from now on it speaks for the bag. */
    | { readonly did: "salt-bagged"; readonly probe: string; readonly salt: Salt }
    /** What it read at the end of its soak, and the air in the bag. */
    | {
        readonly did: "salt-checked";
        readonly probe: string;
        readonly salt: Salt;
        readonly soakH: number;
        readonly readPct: number;
        readonly airC: number;
      }
    | {
        readonly did: "tested";
        readonly method: "F2170" | "F1869";
        readonly rhPct?: number;
        readonly mverLb?: number;
        readonly spot?: string;
      }
    /** Surface profile: CSP number 1 to 10 by comparison, or a depth. */
    | {
        readonly did: "profile";
        readonly csp?: number;
        readonly profileUm?: number;
        readonly how?: string;
        readonly spot?: string;
      }
    /** Pull-off strength. */
    | {
        readonly did: "adhesion";
        readonly mpa: number;
        readonly how: AdhesionMethod;
        readonly failure?: AdhesionFailure;
        readonly spot?: string;
      }
    /** `photo`: SHA-256 of the picture as it is kept. */
    | {
        readonly did: "photographed";
        readonly photo: string;
        readonly of?: PhotoOf;
        readonly sheet?: string;
        readonly probe?: string;
        readonly note?: string;
      }
    | { readonly did: "ventilated"; readonly on: boolean; readonly how?: string }
    /** `hardAfterH`: typed hours of the clock. `sheet`: its hours are earned at the coldest slab. With both, the later counts. */
    | { readonly did: "filled"; readonly hardAfterH?: number; readonly sheet?: string }
    | { readonly did: "coat-added"; readonly sheet: string }
    | { readonly did: "forecast"; readonly lowC: number; readonly dewPointC: number; readonly untilMs: number }
    | {
        readonly did: "heating";
        readonly on: boolean;
        readonly vented?: boolean;
        readonly kW?: number;
        readonly fuel?: Fuel;
        readonly fromMs?: number;
        readonly toMs?: number;
        readonly targetC?: number;
      }
    | { readonly did: "held"; readonly why: string }
    | { readonly did: "released" }
    | { readonly did: "overrode"; readonly call: "pour" | "wait" | "abrade" | "finished"; readonly why: string }
    | { readonly did: "split"; readonly into: readonly SplitPart[] }
    /** A slab probe was lifted and laid elsewhere: what it said before no longer speaks for its new place. */
    | {
        readonly did: "moved";
        readonly probe: string;
        readonly place?: string;
        readonly xM?: number;
        readonly yM?: number;
      }
    /** A probe was taken out of use: it keeps no vote. */
    | { readonly did: "retired"; readonly probe: string }
    /** A person vouches for a probe that was put in doubt, or confirms its unit. */
    | { readonly did: "trusted"; readonly probe: string; readonly why: string }
    | { readonly did: "undone"; readonly undoes: string }
  );

export type Did = JournalEntry["did"];
