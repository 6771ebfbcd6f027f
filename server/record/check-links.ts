// Checks the links of the journal or of the calls, one upon the other.
import { canonical, NotCanonical } from "#core/record/canonical.ts";
import { entryLink, linkText, NO_HASH } from "#core/record/chain.ts";
import { sha256 } from "./heads-now.ts";
import type { ChainedRow } from "./ports.ts";

/** The first thing that is not as it was: where it stands, and what was expected and found. */
export interface Broken {
  readonly day: string | null;
  readonly kind: "journal" | "call" | "readings" | "head" | "photo" | "file";
  /** Place in its file, counted from 1; null where it has none. */
  readonly index: number | null;
  readonly id: string | null;
  readonly what: string;
  readonly expected: string;
  readonly found: string;
}

export function parseLines(text: string): unknown[] {
  const lines = text.split("\n");
  // The last line ends too: what follows its break is nothing.
  if (lines.at(-1) === "") lines.pop();
  return lines.map((line) => {
    try {
      return JSON.parse(line) as unknown;
    } catch {
      return null;
    }
  });
}

function isRow(value: unknown): value is ChainedRow {
  if (typeof value !== "object" || value === null) return false;
  const { day, prev, hash, body } = value as Partial<ChainedRow>;
  return (
    typeof day === "string" &&
    typeof prev === "string" &&
    typeof hash === "string" &&
    typeof body === "object" &&
    body !== null &&
    Object.keys(value).every((key) => ["day", "prev", "hash", "body"].includes(key))
  );
}

function idOf(kind: "journal" | "call", body: object): string {
  const { id, at, zone } = body as { id?: unknown; at?: unknown; zone?: unknown };
  return kind === "journal" ? String(id) : `${String(zone)} ${String(at)}`;
}

function hashOf(site: string, kind: "journal" | "call", prev: string, body: object): string {
  try {
    return sha256(linkText(prev, kind === "journal" ? entryLink(site, body) : body));
  } catch (error) {
    if (error instanceof NotCanonical) return `no canonical form: ${error.message}`;
    throw error;
  }
}

/** Every link in its order; the rows as they were read, up to the first that is broken. */
export function checkLinks(
  site: string,
  kind: "journal" | "call",
  values: readonly unknown[],
): { readonly rows: readonly ChainedRow[]; readonly broken: Broken | null } {
  const rows: ChainedRow[] = [];
  let prev = NO_HASH;
  let day = "";
  for (const [at, row] of values.entries()) {
    const index = at + 1;
    if (!isRow(row)) {
      const found = row === null ? "no JSON" : canonical(row).slice(0, 80);
      const where = { day: day === "" ? null : day, kind, index, id: null };
      return { rows, broken: { ...where, what: "the line is no link", expected: "day, prev, hash, body", found } };
    }
    const where = { day: row.day, kind, index, id: idOf(kind, row.body) };
    if (row.prev !== prev)
      return {
        rows,
        broken: { ...where, what: "does not follow the link before it", expected: prev, found: row.prev },
      };
    const hash = hashOf(site, kind, prev, row.body);
    if (row.hash !== hash)
      return { rows, broken: { ...where, what: "is not what was hashed", expected: row.hash, found: hash } };
    if (row.day < day)
      return {
        rows,
        broken: { ...where, what: "stands on an earlier day than the link before it", expected: day, found: row.day },
      };
    rows.push(row);
    prev = row.hash;
    day = row.day;
  }
  return { rows, broken: null };
}
