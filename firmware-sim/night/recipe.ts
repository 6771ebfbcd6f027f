// A night recipe: which evening of which station, over what kind of floor, and what had been done to it by then.
import type { EntryBody } from "#contract/journal.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { NodeFault } from "../node/spec.ts";
import type { ShedHeat, ShedWishes } from "../scenario/shed.ts";

/** Times in a recipe are hours from 16:00 local time of its evening. */
export interface RecipeHeat extends Omit<ShedHeat, "targets" | "fuel"> {
  readonly targets: readonly (readonly [fromH: number, targetC: number | null])[];
  readonly fuel?: { readonly kwh: number; readonly fromH: number };
}

export interface NightRecipe {
  readonly id: string;
  readonly title: string;
  readonly station: string;
  /** The evening, YYYY-MM-DD, local. */
  readonly evening: string;
  readonly shed: Omit<ShedWishes, "heat" | "doorSpans">;
  readonly heat: RecipeHeat | null;
  /** Hours at which the door stands open once. */
  readonly doorOpen?: readonly (readonly [fromH: number, toH: number])[];
  readonly system: readonly SheetBody[];
  /** What people wrote: hour, kind, and the rest of the entry. */
  readonly journal: readonly (readonly [atH: number, did: EntryBody["did"], rest?: object])[];
  /** Pours: coat, from, to. */
  readonly pours: readonly (readonly [coat: number, fromH: number, toH: number])[];
  readonly faults?: (atMs: (hours: number) => number) => readonly NodeFault[];
  /** The night file carries a weather feed: what the station then reported, so a forecast that came true. */
  readonly feed?: true;
  /** Hours of readings before 16:00; 50 unless the site is younger. */
  readonly pastH?: number;
}

const BARE = [
  [-7, "abraded", { how: "ground" }],
  [-5.5, "cleaned"],
] as const;
/** Ground and cleaned on the day: a bare slab ready for its first coat. */
export const bareReady = (): NightRecipe["journal"] => [...BARE];
/** Ground and cleaned before the first coat at `firstH`. */
export const groundBefore = (firstH: number): NightRecipe["journal"] => [
  [firstH - 4, "abraded", { how: "ground" }],
  [firstH - 2.5, "cleaned"],
];
