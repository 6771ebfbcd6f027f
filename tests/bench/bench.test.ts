// The bench works: every part measures something, and the table and the JSON hold all of it. Of times only ratios that halve are faults.
import { beforeAll, describe, expect, it } from "vitest";
import { halved, TINY_BASELINE } from "./baseline.ts";
import { type Figure, jsonOf, type Machine, ratioAtLeast, tableOf } from "./figure.ts";
import { thisMachine } from "./machine.ts";
import { measure, PARTS } from "./run.ts";
import { TINY } from "./sizes.ts";
import { quantile, rangeText, shown } from "./stats.ts";

const MACHINE: Machine = {
  at: "2026-02-03T12:00:00.000Z",
  cores: 2,
  processor: "some processor",
  memoryGiB: 8,
  node: "v20.19.0",
  platform: "linux x64",
  load: 0.5,
  sizes: "tiny",
};
const FIGURE: Figure = {
  what: "packs taken",
  value: 1500,
  unit: "packs/s",
  n: 20_000,
  spread: "1,400 to 1,600",
  peer: { what: "a subscriber that counts", value: 6000 },
  goal: ratioAtLeast(0.5),
};

/** These play hours or start a browser, however small they are made: they are for the bench alone. */
const LONG: readonly string[] = ["crowd", "memory", "capacity", "page"];
const SHORT = PARTS.filter((part) => !LONG.includes(part));

describe("the bench", () => {
  const said: string[] = [];
  let figures: readonly Figure[] = [];
  beforeAll(async () => {
    figures = await measure(TINY, SHORT, (text) => void said.push(text));
  }, 300_000);

  it("measures with tiny sizes", () => {
    expect(new Set(figures.map(({ what }) => what)).size).toBe(figures.length);
    expect(figures.length).toBeGreaterThanOrEqual(15);
    for (const { value, n, unit, peer } of figures) {
      if (unit !== "rejections" && unit !== "sites") expect(value).toBeGreaterThan(0);
      expect(value).toBeLessThan(Infinity);
      expect(n).toBeGreaterThan(0);
      expect(unit).toMatch(/^(packs\/s|readings\/s|bytes|us|ms|kB|MB|times|rejections|sites)$/);
      if (peer !== null) expect(peer.value).toBeGreaterThan(0);
    }
    expect(said).toHaveLength(SHORT.length + 1);
    const lines = tableOf(figures, thisMachine("tiny")).split("\n");
    for (const { what } of figures) expect(lines.filter((line) => line.startsWith(`| ${what} `))).toHaveLength(1);
  });

  it("finds no kept ratio half as good as it was", { timeout: 300_000 }, async () => {
    const ofAll = figures.filter(({ what }) => what in TINY_BASELINE);
    expect(ofAll.map(({ what }) => what).sort()).toEqual(Object.keys(TINY_BASELINE).sort());
    // A machine that is busy elsewhere can spoil one look, and hardly two.
    const worse = halved(ofAll, TINY_BASELINE);
    const again =
      worse.length === 0 ? [] : halved(await measure(TINY, ["ingest", "store"], () => undefined), TINY_BASELINE);
    expect(worse.length > 0 && again.length > 0 ? again : []).toEqual([]);
  });

  it("would find each of them, were it half as good as kept", () => {
    for (const [what, kept] of Object.entries(TINY_BASELINE)) {
      const figure = figures.find((one) => one.what === what);
      const peer = figure?.peer ?? null;
      if (figure === undefined || peer === null) throw new Error(`${what} was not measured beside its peer`);
      const planted = { ...figure, value: 2.01 * kept * peer.value };
      const others = figures.filter((one) => one !== figure);
      expect(halved([planted, ...others], { [what]: kept })).toHaveLength(1);
    }
  });
});

describe("what is kept", () => {
  it.each([
    ["packs/s", 1500, 0.51, true],
    ["packs/s", 1500, 0.49, false],
    ["us", 1500, 0.13, false],
    ["us", 1500, 0.12, true],
  ] as const)(
    "in %s: a ratio of a quarter, %d beside 6000, kept as %d: halved is %s",
    (unit, value, kept, isHalved) => {
      expect(halved([{ ...FIGURE, unit, value }], { [FIGURE.what]: kept }).length > 0).toBe(isHalved);
    },
  );
  it("says nothing of a figure whose peer was not there", () => {
    expect(halved([{ ...FIGURE, peer: null }], { [FIGURE.what]: 9 })).toEqual([]);
  });
});

describe("the table", () => {
  it("shows value, unit, n, what was beside it, the ratio, the date and the machine", () => {
    const [machine, , , , row] = tableOf([FIGURE], MACHINE).split("\n");
    expect(machine).toBe(
      "2026-02-03T12:00:00.000Z, 2 cores (some processor), 8 GiB, linux x64, Node v20.19.0, load 0.5, tiny run",
    );
    const cells = row?.split("|").map((cell) => cell.trim());
    expect(cells).toEqual([
      "",
      "packs taken",
      "at least 0.5 of the peer",
      "1,500",
      "packs/s",
      "20,000",
      "1,400 to 1,600",
      "a subscriber that counts",
      "6,000",
      "0.25",
      "no",
      "",
    ]);
  });

  it("is the same in JSON", () => {
    expect(JSON.parse(jsonOf([FIGURE, { ...FIGURE, peer: null }], MACHINE))).toEqual({
      machine: MACHINE,
      figures: [
        { ...FIGURE, ratio: 0.25, met: false },
        { ...FIGURE, peer: null, ratio: null, met: null },
      ],
    });
  });
});

describe("the statistics", () => {
  it("count values and never interpolate", () => {
    const values = [5, 1, 4, 2, 3];
    expect([0, 0.2, 0.5, 0.9, 1].map((share) => quantile(values, share))).toEqual([1, 1, 3, 5, 5]);
    expect(() => quantile([], 0.5)).toThrow(RangeError);
  });

  it("show three figures, and the range of several rounds", () => {
    expect([0, 0.012345, 1.2345, 12.345, 123.45, 1234.5].map(shown)).toEqual([
      "0",
      "0.0123",
      "1.23",
      "12.3",
      "123",
      "1,235",
    ]);
    expect(rangeText([3])).toBe("");
    expect(rangeText([3, 1, 2])).toBe("1 to 3");
  });
});
