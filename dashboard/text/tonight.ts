// The texts of the page of the night, in the language of a dictionary. Loaded with the page.
import type { Dictionary } from "./en.ts";
import { enTonight, type TonightText } from "./en-tonight.ts";
import { esTonight } from "./es-tonight.ts";

export const tonightText = (text: Dictionary): TonightText => (text.lang === "es" ? esTonight : enTonight);
