// The texts of the gate before solvent, in the language of a dictionary. Loaded with the journal.
import type { Dictionary } from "./en.ts";
import { type CautionText, enCaution } from "./en-caution.ts";
import { esCaution } from "./es-caution.ts";

export const cautionText = (text: Dictionary): CautionText => (text.lang === "es" ? esCaution : enCaution);
