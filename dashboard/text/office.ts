// The texts of the page over all sites, in the language of a dictionary. Loaded with the page.
import type { Dictionary } from "./en.ts";
import { enOffice, type OfficeText } from "./en-office.ts";
import { esOffice } from "./es-office.ts";

export const officeText = (text: Dictionary): OfficeText => (text.lang === "es" ? esOffice : enOffice);
