// The texts of alarms and of who is told, in the language of a dictionary. Loaded after the board.
import type { Dictionary } from "./en.ts";
import { type AlarmsText, enAlarms } from "./en-alarms.ts";
import { esAlarms } from "./es-alarms.ts";

export type { AlarmsText } from "./en-alarms.ts";
export const alarmsText = (text: Dictionary): AlarmsText => (text.lang === "es" ? esAlarms : enAlarms);
