// The texts of the help in place, in the language of a dictionary. Loaded when somebody asks.
import type { Dictionary } from "./en.ts";
import { enHelp, type HelpText } from "./en-help.ts";
import { esHelp } from "./es-help.ts";

export const helpText = (text: Dictionary): HelpText => (text.lang === "es" ? esHelp : enHelp);
