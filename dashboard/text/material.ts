// The texts of the material page, in the language of a dictionary. Loaded with the page.
import type { Dictionary } from "./en.ts";
import { enMaterial, type MaterialText } from "./en-material.ts";
import { esMaterial } from "./es-material.ts";

export type { MaterialText } from "./en-material.ts";
export const materialText = (text: Dictionary): MaterialText => (text.lang === "es" ? esMaterial : enMaterial);
