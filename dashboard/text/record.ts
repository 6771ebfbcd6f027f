// The texts of the record page, in the language of a dictionary. Loaded with that page.
import type { Dictionary } from "./en.ts";
import { enRecord, type RecordText } from "./en-record.ts";
import { esRecord } from "./es-record.ts";

export const recordText = (text: Dictionary): RecordText => (text.lang === "es" ? esRecord : enRecord);
