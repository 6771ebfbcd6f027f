// The texts of second opinions, in the language of a dictionary. Loaded with the sensors page.
import { enOpinions, type OpinionsText } from "./en-opinions.ts";
import type { Dictionary } from "./en.ts";
import { esOpinions } from "./es-opinions.ts";

export const opinionsText = (text: Dictionary): OpinionsText => (text.lang === "es" ? esOpinions : enOpinions);
