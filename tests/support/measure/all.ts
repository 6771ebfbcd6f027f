// Everything that is measured against outside truth, in the order of the accuracy table.
import type { Measured } from "../checks.ts";
import { measureConduction } from "./conduction.ts";
import { measureEquivalentAge } from "./equivalent-age.ts";
import { measureMagnus } from "./magnus.ts";
import { measureChart, measureMargin } from "./margin.ts";
import { measurePsychrometrics } from "./psychrometrics.ts";
import { measureReferenceGrid } from "./reference-grid.ts";
import { measureSecondOpinion } from "./second-opinion.ts";
import { measureSlabLag, measureVentilation } from "./site-heat.ts";
import { measureUnits } from "./units.ts";
import { measureNewYork } from "./weather.ts";

export const MEASURES: readonly (() => Measured)[] = [
  measurePsychrometrics,
  measureReferenceGrid,
  measureMagnus,
  measureSecondOpinion,
  measureChart,
  measureMargin,
  measureNewYork,
  measureConduction,
  measureSlabLag,
  measureVentilation,
  measureEquivalentAge,
  measureUnits,
];
