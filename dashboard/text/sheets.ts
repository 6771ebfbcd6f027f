// The texts of the sheets' pages, in the language of a dictionary. Loaded with them.
import type { Dictionary } from "./en.ts";
import { enSheets, type SheetsText } from "./en-sheets.ts";
import { esSheets } from "./es-sheets.ts";

export const sheetsText = (text: Dictionary): SheetsText => (text.lang === "es" ? esSheets : enSheets);
