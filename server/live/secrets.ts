// Secrets made here: long enough that nobody guesses them, and the join secret such that a person can type it.
import { createHash, randomBytes, randomInt } from "node:crypto";

/** Without letters and digits that look like each other. */
const LETTERS = "abcdefghjkmnpqrstuvwxyz23456789";

/** Four groups of five: 99 bits. */
export function newJoinSecret(): string {
  const group = () => Array.from({ length: 5 }, () => LETTERS[randomInt(LETTERS.length)]).join("");
  return [group(), group(), group(), group()].join("-");
}

/** 256 bits; what is kept of it is its SHA-256, which needs no salt at this length. */
export function newPassword(): { readonly password: string; readonly key: string } {
  const password = randomBytes(32).toString("base64url");
  return { password, key: createHash("sha256").update(password).digest("hex") };
}
