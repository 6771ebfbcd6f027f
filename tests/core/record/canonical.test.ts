// Canonical JSON against the examples of RFC 8785, and what may not be written.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { canonical, NotCanonical } from "#core/record/canonical.ts";
import { dayFromName, dayName, dayOf, headText, linkText, NO_HASH, readingText } from "#core/record/chain.ts";

const vectors = JSON.parse(
  readFileSync(new URL("../../reference/json-canonical/vectors.json", import.meta.url), "utf8"),
) as { name: string; input: string; output: string }[];

describe("canonical JSON", () => {
  // tests/reference/json-canonical/SOURCE.md
  it.each(vectors)("$name", ({ input, output }) => {
    expect(canonical(JSON.parse(input))).toBe(output);
    expect(canonical(JSON.parse(output))).toBe(output);
  });

  it("leaves out what has no value, and refuses what is not JSON", () => {
    expect(canonical({ b: undefined, a: null })).toBe('{"a":null}');
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, "\ud83d", { a: () => 1 }, [undefined]])
      expect(() => canonical(bad)).toThrow(NotCanonical);
  });
});

describe("what is hashed", () => {
  it("is one text whatever the order of keys", () => {
    expect(linkText(NO_HASH, { b: 1, a: "x" })).toBe(`${NO_HASH}\n{"a":"x","b":1}`);
    expect(readingText("bay-1", "slab.2", 1_770_120_000_000, 11.25, 1_770_120_000_700)).toBe(
      '["bay-1","slab.2",1770120000000,11.25,1770120000700]\n',
    );
    const parts = { site: "dock", day: "2026-02-03", prev: "p", journal: "j", calls: "c", readings: "r" };
    expect(headText({ ...parts, entries: 1, callCount: 2, readingCount: 3 })).toBe(
      '{"callCount":2,"calls":"c","day":"2026-02-03","entries":1,"journal":"j","prev":"p","readingCount":3,"readings":"r","site":"dock"}',
    );
  });

  it("goes by days of UTC", () => {
    const lastMs = Date.UTC(2026, 1, 3, 23, 59, 59, 999);
    expect(dayName(dayOf(lastMs))).toBe("2026-02-03");
    expect(dayName(dayOf(lastMs + 1))).toBe("2026-02-04");
    expect(dayFromName("2026-02-04")).toBe(dayOf(lastMs) + 1);
  });
});
