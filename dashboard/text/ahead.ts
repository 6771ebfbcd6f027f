// The texts of what lies ahead, in the language of a dictionary. Not part of it: the board does without them.
import type { Dictionary } from "./en.ts";
import { type AheadText, enAhead } from "./en-ahead.ts";
import { esAhead } from "./es-ahead.ts";

export const aheadText = (text: Dictionary): AheadText => (text.lang === "es" ? esAhead : enAhead);
