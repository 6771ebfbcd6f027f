// Words of calendars.
import type { Language } from "./ports.ts";
import { calendarWordsEn } from "./words-en.ts";
import { calendarWordsEs } from "./words-es.ts";
import type { CalendarWords } from "./words-form.ts";

const WORDS: Readonly<Record<Language, CalendarWords>> = { en: calendarWordsEn, es: calendarWordsEs };
export const calendarWords = (language: Language): CalendarWords => WORDS[language];
