// The words of telling people, by language.
import type { Language } from "./ports.ts";
import { wordsEn } from "./words-en.ts";
import { wordsEs } from "./words-es.ts";
import type { NotifyWords } from "./words-form.ts";

const WORDS: Readonly<Record<Language, NotifyWords>> = { en: wordsEn, es: wordsEs };

export function wordsOf(language: Language): NotifyWords {
  return WORDS[language];
}
