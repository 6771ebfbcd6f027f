// The texts of the journal, in the language of a dictionary. Not part of it: the board does without them.
import type { Dictionary } from "./en.ts";
import { enJournal } from "./en-journal.ts";
import { esJournal } from "./es-journal.ts";

export type JournalText = typeof enJournal;
export const journalText = (text: Dictionary): JournalText => (text.lang === "es" ? esJournal : enJournal);
