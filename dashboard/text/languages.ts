// The dictionaries, each loaded when it is needed: a phone that reads Spanish does not wait for English.
import type { Dictionary } from "./en.ts";

export const LANGUAGES = {
  en: async (): Promise<Dictionary> => (await import("./en.ts")).en,
  es: async (): Promise<Dictionary> => (await import("./es.ts")).es,
} as const;
