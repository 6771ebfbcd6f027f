// The texts of the zone page, in the language of a dictionary. Loaded with it: the board does without them.
import type { Dictionary } from "./en.ts";
import { enZone, type ZoneText } from "./en-zone.ts";
import { esZone } from "./es-zone.ts";

export const zoneText = (text: Dictionary): ZoneText => (text.lang === "es" ? esZone : enZone);
