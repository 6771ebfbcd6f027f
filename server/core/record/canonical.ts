// The one way to write a JSON value, after RFC 8785: what is hashed must come out the same everywhere.

/** A value that cannot be written: a number that is none, half of a character, something that is not JSON. */
export class NotCanonical extends Error {}

const LONE_SURROGATE = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/;

function text(value: string): string {
  if (LONE_SURROGATE.test(value)) throw new NotCanonical("a text holds half of a character");
  return JSON.stringify(value);
}

/**
 * Canonical JSON (RFC 8785): keys in the order of their UTF-16 code units, no white space, numbers and texts as
 * ECMAScript writes them. Keys without a value (`undefined`) are left out. Throws NotCanonical.
 */
export function canonical(value: unknown): string {
  if (value === null || value === true || value === false) return String(value);
  if (typeof value === "string") return text(value);
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new NotCanonical(`${value} is not a number of JSON`);
    return JSON.stringify(value);
  }
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (typeof value !== "object") throw new NotCanonical(`a ${typeof value} is not JSON`);
  const entries = Object.entries(value).filter(([, item]) => item !== undefined);
  entries.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  return `{${entries.map(([key, item]) => `${text(key)}:${canonical(item)}`).join(",")}}`;
}
