// Secrets that recipes name: from a file of NAME=value lines, else from the environment under a name of their own.
import { readFileSync } from "node:fs";
import type { FeedRecipe } from "#contract/feed.ts";
import { type Checked, type Fault, fail } from "#contract/faults.ts";

export interface SecretPlaces {
  /** Read anew each time, so that a changed key needs no restart; null for none. */
  readonly file: string | null;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

/** Only names that begin so are read: a recipe must not be able to send any other variable of the machine anywhere. */
export const SECRET_PREFIX = "FEED_SECRET_";

function fromFile(file: string): ReadonlyMap<string, string> {
  const lines = readFileSync(file, "utf8").split(/\r?\n/);
  return new Map(
    lines.flatMap((line) => {
      const found = /^\s*([A-Z][A-Z0-9_]{0,63})\s*=\s*(.*?)\s*$/.exec(line);
      return found === null ? [] : [[found[1] as string, found[2] as string]];
    }),
  );
}

export interface Filled {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
}

/** The address and headers with their secrets filled in; a fault names the secret, never its value. */
export function fillSecrets(recipe: FeedRecipe, places: SecretPlaces): Checked<Filled> {
  let known: ReadonlyMap<string, string> = new Map();
  try {
    if (places.file !== null) known = fromFile(places.file);
  } catch (error) {
    return fail(
      "/headers",
      `the file of secrets cannot be read (${(error as NodeJS.ErrnoException).code ?? "unknown"})`,
    );
  }
  const faults: Fault[] = [];
  const secretOf = (name: string, field: string): string => {
    const value = known.get(name) ?? places.environment[`${SECRET_PREFIX}${name}`];
    if (value !== undefined && /^[\x20-\x7e]+$/.test(value)) return value;
    const reason = value === undefined ? "is not known to the server" : "has characters that cannot be sent";
    faults.push({ field, reason: `the secret ${name} ${reason}` });
    return "";
  };
  const headers = Object.fromEntries(
    (recipe.headers ?? []).map(({ name, secret }, index) => [
      name.toLowerCase(),
      secretOf(secret, `/headers/${index}/secret`),
    ]),
  );
  const url = (recipe.source.url ?? "").replaceAll(/\{([A-Z][A-Z0-9_]{0,63})\}/g, (_, name: string) =>
    encodeURIComponent(secretOf(name, "/source/url")),
  );
  return faults.length > 0 ? { ok: false, faults } : { ok: true, value: { url, headers } };
}
