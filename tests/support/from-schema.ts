// Random values for a JSON Schema, mostly fitting and sometimes not, the same for the same seed.

export type Random = () => number;
export interface JsonSchema {
  readonly [key: string]: unknown;
}

/** Mulberry32: a small generator of numbers from 0 to 1, good enough to shake a door with. */
export function seeded(seed: number): Random {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

export function pick<T>(random: Random, from: readonly T[]): T {
  return from[Math.floor(random() * from.length)] as T;
}

const JUNK: readonly unknown[] = [
  null,
  "",
  -1,
  1e308,
  2 ** 53,
  true,
  [],
  {},
  [null],
  { a: { b: [] } },
  "\u0000",
  "𝄞 ünïcode",
  "x".repeat(5000),
  "../..",
  "2026-02-30T00:00:00Z",
  "1'; --",
  "constructor",
  "__proto__",
  0.1,
  "NaN",
];

/** `words` are tried where a pattern must be met. `junk` is the share of values that ignore the schema, 0 to 1. */
export function valueFor(schema: JsonSchema, random: Random, words: readonly string[], junk: number): unknown {
  const inner = (of: unknown) => valueFor((of ?? {}) as JsonSchema, random, words, junk);
  if (random() < junk) return pick(random, JUNK);
  if ("const" in schema) return schema.const;
  if (Array.isArray(schema.enum)) return pick(random, schema.enum);
  if (Array.isArray(schema.anyOf)) return inner(pick(random, schema.anyOf));
  if (Array.isArray(schema.prefixItems)) return schema.prefixItems.map(inner);
  const least = Number(schema.minimum ?? schema.exclusiveMinimum ?? -50);
  const most = Math.min(Number(schema.maximum ?? 100), 1000);
  switch (schema.type) {
    case "null":
      return null;
    case "boolean":
      return random() < 0.5;
    case "integer":
      return Math.ceil(least + random() * (most - least));
    case "number":
      return Math.round((least + random() * (most - least)) * 100) / 100 || most;
    case "string": {
      const pattern = new RegExp(String(schema.pattern ?? "^."));
      return pick(
        random,
        words.filter((word) => pattern.test(word)),
      );
    }
    case "array":
      return Array.from({ length: Number(schema.minItems ?? 0) + Math.floor(random() * 2) }, () => inner(schema.items));
    case "object": {
      const required = (schema.required ?? []) as readonly string[];
      const properties = Object.entries((schema.properties ?? {}) as Record<string, unknown>);
      const chosen = properties.filter(([name]) => (required.includes(name) ? random() >= junk / 2 : random() < 0.4));
      const extra = random() < junk ? [["extra", pick(random, JUNK)] as const] : [];
      return Object.fromEntries([...chosen.map(([name, of]) => [name, inner(of)] as const), ...extra]);
    }
    default:
      return pick(random, JUNK);
  }
}
