// The texts of the heat panel, in the language of a dictionary. Loaded with the panel.
import type { Dictionary } from "./en.ts";
import { enHeat, type HeatText } from "./en-heat.ts";
import { esHeat } from "./es-heat.ts";

export const heatText = (text: Dictionary): HeatText => (text.lang === "es" ? esHeat : enHeat);
