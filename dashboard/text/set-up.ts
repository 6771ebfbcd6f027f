// The texts of setting a site up, in the language of a dictionary. Loaded with those pages.
import type { Dictionary } from "./en.ts";
import { enSetUp, type SetUpText } from "./en-set-up.ts";
import { esSetUp } from "./es-set-up.ts";

export const setUpText = (text: Dictionary): SetUpText => (text.lang === "es" ? esSetUp : enSetUp);
