// The question "what would heat do to this zone, and can it save the window?" and its answer.
import type { BuildingClass, BuildingHeat } from "#core/heat/building.ts";
import type { FuelUse, Heater } from "#core/heat/heater.ts";
import type { CallWord } from "#core/judge/call.ts";
import type { FanTime } from "#core/outlook/outlook.ts";

export interface HeatQuestion {
  readonly heater: Heater;
  /** Air temperature of the thermostat. */
  readonly targetC: number;
  /** For heating that begins later; null = six hours from now. */
  readonly fromMs: number | null;
  /** What a person knows of the building; null = measured where the readings tell, else rough. */
  readonly building: {
    readonly class: BuildingClass;
    /** null = all zones of the site together. */
    readonly floorM2: number | null;
    readonly heightM: number | null;
  } | null;
}

export type PlanName = "no-heat" | "heat-now" | "heat-from" | "heat-then-coast";

export interface FilmUnderHeat {
  readonly opens: FanTime;
  readonly closes: FanTime;
  readonly dewSafe: FanTime;
  readonly walkOn: FanTime;
  readonly chanceLost: number;
}

/** First pour that the outlook would allow: 10 and 50 % quantiles of its time, the middle of its latest start, its chance. */
export interface PourUnderHeat {
  readonly earliestMs: number;
  readonly likelyMs: number;
  /** null when the pour may start until the end of the outlook. */
  readonly latestStartAtMs: number | null;
  readonly chance: number;
}

/** Middle of the outlook on equal steps. */
export interface CourseUnderHeat {
  readonly fromMs: number;
  readonly stepMs: number;
  readonly slabColdC: readonly number[];
  readonly airC: readonly number[];
  readonly dewPointC: readonly number[];
  readonly marginK: readonly number[];
}

/** One way to heat, and what follows from it; quantities from now to the end of the outlook. */
export interface HeatChoice {
  readonly plan: PlanName;
  readonly fromMs: number | null;
  readonly toMs: number | null;
  readonly targetC: number | null;
  readonly airReachesTargetMs: number | null;
  readonly slabReachesTargetMs: number | null;
  readonly slabAfterC: readonly { readonly hours: number; readonly slabC: number }[];
  readonly highestSlabC: number;
  readonly lowestMarginK: readonly [number, number, number];
  readonly lowestMarginAtMs: number;
  readonly film: FilmUnderHeat | null;
  readonly pour: PourUnderHeat | null;
  readonly callNow: CallWord;
  readonly savesWindow: boolean;
  readonly heatKWh: number;
  readonly fuel: FuelUse | null;
  readonly waterKg: number;
  readonly course: CourseUnderHeat;
}

export type SaveAnswer = "no-film" | "not-closing" | "holds-without-heat" | "yes" | "no";

export interface SaveWindow {
  readonly answer: SaveAnswer;
  /** Index of the cheapest choice that saves it. */
  readonly choice: number | null;
  /** Work that is due if it is not saved. */
  readonly abrading: { readonly areaM2: number; readonly personHours: readonly [number, number] } | null;
}

export type HeatCaution =
  | "unvented-fumes"
  | "carbon-monoxide"
  | "fresh-air"
  | "fumes-film"
  | "clearances"
  | "flame-and-solvent"
  | "water-into-air"
  | "refuel-cold"
  | "electric-circuits"
  | "rising-slab";

export interface HeatPlan {
  readonly atMs: number;
  readonly building: BuildingHeat;
  readonly choices: readonly HeatChoice[];
  readonly saveWindow: SaveWindow;
  readonly cautions: readonly HeatCaution[];
}

/** Why there is no plan: nothing to look ahead with, or a start that lies outside of the outlook. */
export type HeatPlanAnswer =
  | { readonly ok: true; readonly plan: HeatPlan }
  | { readonly ok: false; readonly why: "no-outlook" | "from-past" | "from-too-late" };
