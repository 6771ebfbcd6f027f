// The texts of signing in, people and the client's page, in the language of a dictionary. Loaded with those pages.
import { type AccessText, enAccess } from "./en-access.ts";
import type { Dictionary } from "./en.ts";
import { esAccess } from "./es-access.ts";

export const accessText = (text: Dictionary): AccessText => (text.lang === "es" ? esAccess : enAccess);
