// The texts of the plan, in the language of a dictionary. Loaded with the pages that draw it.
import type { Dictionary } from "./en.ts";
import { enPlan, type PlanText } from "./en-plan.ts";
import { esPlan } from "./es-plan.ts";

export const planText = (text: Dictionary): PlanText => (text.lang === "es" ? esPlan : enPlan);
