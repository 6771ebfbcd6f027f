// The texts of the sensors page, in the language of a dictionary. Loaded with the page.
import type { Dictionary } from "./en.ts";
import { enSensors, type SensorsText } from "./en-sensors.ts";
import { esSensors } from "./es-sensors.ts";

export const sensorsText = (text: Dictionary): SensorsText => (text.lang === "es" ? esSensors : enSensors);
