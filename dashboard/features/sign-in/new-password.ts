// What is wrong with a new account's fields before the server is asked; the server's own rules go further.
import type { AccessText } from "../../text/en-access.ts";
import type { Faults } from "./use-attempt.ts";

/** Lengths of the contract, in characters as people count them. */
const SHORTEST = 12;
const LONGEST = 128;

export interface NewDraft {
  readonly code?: string;
  readonly name?: string;
  readonly password: string;
}

export function newFaults({ code, name, password }: NewDraft, words: AccessText): Faults {
  const length = [...password.normalize("NFKC")].length;
  return {
    ...(code?.trim() === "" ? { code: words.first.needCode } : {}),
    ...(name?.trim() === "" ? { name: words.form.needName } : {}),
    ...(length < SHORTEST ? { password: words.form.short(SHORTEST) } : {}),
    ...(length > LONGEST ? { password: words.form.long(LONGEST) } : {}),
  };
}
