// Tokens and codes that let somebody in, and what is kept of them.
import { createHash, randomBytes, randomInt, timingSafeEqual } from "node:crypto";

/** 256 random bits, fit for a cookie and the end of an address. */
export function newToken(): string {
  return randomBytes(32).toString("base64url");
}

/** Letters and digits that nobody takes for one another, in any case. */
const READABLE = "ABCDEFGHJKMNPQRSTVWXYZ23456789";
const CODE_LENGTH = 16;

/** A code to be read from a terminal and typed: 16 of 30 characters, 78 bits. */
export function newCode(): string {
  const text = Array.from({ length: CODE_LENGTH }, () => READABLE[randomInt(READABLE.length)]).join("");
  return (text.match(/.{4}/g) ?? []).join("-");
}

/** As it is compared: typed in small letters, with spaces, or without its dashes it is the same code. */
function plainSecret(secret: string): string {
  const bare = secret.replace(/[\s-]/g, "").toUpperCase();
  return bare.length === CODE_LENGTH && [...bare].every((one) => READABLE.includes(one)) ? bare : secret;
}

/**
 * What is kept of a token or code. They are random and long, so a fast hash will do; and since they are looked up by it,
 * how long a look takes tells nothing of the secret.
 */
export function hashOf(secret: string): string {
  return createHash("sha256").update(plainSecret(secret)).digest("hex");
}

/** Compares in a time that does not tell where two texts differ. */
export function sameSecret(a: string, b: string): boolean {
  return timingSafeEqual(Buffer.from(hashOf(a)), Buffer.from(hashOf(b)));
}

export function newId(letter: string): string {
  return `${letter}-${randomBytes(6).toString("hex")}`;
}

/** A name as it is compared: two people cannot differ by a capital or a space. */
export function nameKey(name: string): string {
  return name.normalize("NFKC").toLowerCase().replace(/\s+/g, " ").trim();
}
