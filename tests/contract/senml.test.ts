// SenML packs are resolved as RFC 8428 says: its own examples, and edge cases made from its rules.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readingFromRecord } from "#contract/reading.ts";
import { resolveSenml } from "#contract/senml.ts";

interface Vector {
  readonly id: string;
  readonly now: number;
  readonly pack: unknown[];
  readonly resolved?: Record<string, unknown>[];
  readonly error?: string;
}
const file = new URL("../reference/senml/senml-vectors.json", import.meta.url);
const { vectors } = JSON.parse(readFileSync(file, "utf8")) as { vectors: Vector[] };
const bad = vectors.filter(({ error }) => error !== undefined);
const fine = vectors.filter(({ resolved }) => resolved !== undefined);

describe("SenML vectors (RFC 8428 examples and rules, see tests/reference/senml/SOURCE.md)", () => {
  it("are all of one kind or the other", () => {
    expect(fine.length).toBeGreaterThan(15);
    expect(bad.length).toBeGreaterThan(4);
    expect(fine.length + bad.length).toBe(vectors.length);
  });

  it.each(fine)("$id resolves", ({ now, pack, resolved = [] }) => {
    const read = resolveSenml(pack, now);
    if (!read.ok) expect.fail(JSON.stringify(read.faults));
    const got = read.value.map(({ index: _, ...record }) => record as Record<string, unknown>);
    expect(got).toHaveLength(resolved.length);
    for (const [index, wanted] of resolved.entries()) {
      const { t, v, ...rest } = wanted as { t: number; v?: number };
      expect(got[index]).toMatchObject(rest);
      expect(Object.keys(got[index] ?? {}).sort()).toEqual(Object.keys(wanted).sort());
      expect(got[index]?.t).toBeCloseTo(t, 6);
      if (v !== undefined) expect(got[index]?.v).toBeCloseTo(v, 9);
    }
  });

  it.each(bad)("$id is refused", ({ now, pack }) => {
    const read = resolveSenml(pack, now);
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.faults[0]?.field).toMatch(/^\//);
  });
});

describe("a record as a reading", () => {
  const one = (record: object) => {
    const read = resolveSenml([{ t: 1_770_000_000, ...record }], 0);
    if (!read.ok || read.value[0] === undefined) throw new Error("not SenML");
    return readingFromRecord(read.value[0]);
  };

  it("takes the quantities of the design with their units", () => {
    expect(one({ n: "bay-1/slab.2", u: "Cel", v: 4.4 })).toEqual({
      ok: true,
      value: { node: "bay-1", quantity: "slab.2", atMs: 1_770_000_000_000, value: 4.4 },
    });
    expect(one({ n: "bay-1/door", vb: true })).toMatchObject({ ok: true, value: { value: 1 } });
  });

  it.each([
    [{ n: "bay-1/slab", u: "F", v: 40 }, "/0/u"],
    [{ n: "bay-1/slab", v: 40 }, "/0/u"],
    [{ n: "bay-1/rh", u: "/", v: 0.5 }, "/0/u"],
    [{ n: "bay-1/mood", u: "Cel", v: 1 }, "/0/n"],
    [{ n: "slab", u: "Cel", v: 1 }, "/0/n"],
    [{ n: "bay-1/slab", u: "Cel", vs: "cold" }, "/0/v"],
    [{ n: "bay-1/door", v: 1 }, "/0/vb"],
  ])("refuses %j and names the field", (record, field) => {
    const read = one(record);
    expect(read.ok ? null : read.faults[0]?.field).toBe(field);
  });
});
