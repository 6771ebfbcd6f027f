// The texts of who is told, in the language of a dictionary. Loaded with the page.
import type { Dictionary } from "./en.ts";
import { enTell, type TellText } from "./en-tell.ts";
import { esTell } from "./es-tell.ts";

export type { TellText } from "./en-tell.ts";
export const tellText = (text: Dictionary): TellText => (text.lang === "es" ? esTell : enTell);
