// All night recipes.
import type { NightRecipe } from "./recipe.ts";
import { BARE_NIGHTS } from "./recipes-bare.ts";
import { SECOND_NIGHTS } from "./recipes-second.ts";
import { TOP_NIGHTS } from "./recipes-top.ts";

export const NIGHTS: readonly NightRecipe[] = [...BARE_NIGHTS, ...SECOND_NIGHTS, ...TOP_NIGHTS];
