// Recipes: five common shapes, exact conversion, and a fault with its place for whatever is not as it was told.
import { describe, expect, it } from "vitest";
import { RECIPE_EXAMPLES } from "#contract/recipe-examples.ts";
import { readRecipe, type RecipeBody, recipeFaults, recipesFaults } from "#contract/recipe.ts";
import { readByRecipe } from "#contract/recipe-reading.ts";
import { filterFault, filterMatches, filtersOverlap } from "#contract/topic-filter.ts";

const ARRIVED_MS = Date.UTC(2026, 0, 30, 12, 0, 30);
const SAID_MS = Date.UTC(2026, 0, 30, 12);
const example = (shape: string) => {
  const found = RECIPE_EXAMPLES.find((one) => one.shape === shape);
  if (found === undefined) throw new Error(shape);
  return found;
};
const read = (
  shape: string,
  change: Partial<RecipeBody> = {},
  body?: unknown,
  arrivedMs: number | null = ARRIVED_MS,
) => {
  const { recipe, topic, payload } = example(shape);
  return readByRecipe({ ...recipe, ...change }, topic, body === undefined ? JSON.parse(payload) : body, arrivedMs);
};
const values = (shape: string) =>
  Object.fromEntries(read(shape).readings.map(({ quantity, value }) => [quantity, value]));

describe("the examples", () => {
  it.each(RECIPE_EXAMPLES)("$shape fits its schema and reads without a fault", ({ recipe, topic, payload }) => {
    expect(readRecipe(recipe)).toMatchObject({ ok: true });
    const got = readByRecipe(recipe, topic, JSON.parse(payload), ARRIVED_MS);
    expect(got.faults).toEqual([]);
    expect(got.readings.length).toBeGreaterThanOrEqual(3);
  });

  it("give these numbers", () => {
    expect(values("flat")).toEqual({ slab: 11.4, air: 13.8, rh: 58.5, battery: 87 });
    expect(values("nested")).toEqual({ air: 12.9, rh: 61, "battery.v": 3.58, rssi: -97 });
    expect(values("channels")).toEqual({ slab: 12.1, "slab.2": 10.9, air: 14.2 });
    expect(values("text")).toEqual({ air: 14.62, rh: 57.3, door: 1 });
    // 53.6 and 57.2 °F are 12 and 14 °C exactly: (F - 32) / 1.8, the definition of the degree Fahrenheit.
    expect(values("scaled")).toEqual({ slab: 12, air: 14, rh: 58.5 });
  });

  it("name their node by topic, body or table, and their time by body or arrival", () => {
    expect(RECIPE_EXAMPLES.map(({ shape }) => read(shape).node)).toEqual([
      "corner",
      "north-wall",
      "bay",
      "slip-door",
      "slip",
    ]);
    expect(read("flat").readings[0]?.atMs).toBe(SAID_MS);
    expect(read("text").readings[0]?.atMs).toBe(ARRIVED_MS);
  });
});

describe("nothing is guessed", () => {
  const fault = (shape: string, change: Partial<RecipeBody>, body?: unknown, arrivedMs: number | null = ARRIVED_MS) =>
    read(shape, change, body, arrivedMs).faults.map(({ field, reason }) => `${field} ${reason}`);

  it("a message that was kept has no time of arrival", () => {
    expect(fault("text", {}, undefined, null)[0]).toContain("names no time");
  });
  it("a number as text is one only where the recipe says so", () => {
    const body = { ts: 1_769_774_400, floor_c: "11.4", air_c: 1, rh: 50 };
    expect(fault("flat", {}, body)).toEqual(["/floor_c is text: the recipe must say so"]);
    expect(fault("text", {}, { temperature: "14,6", humidity: "50" })).toEqual(['/temperature "14,6" is not a number']);
    expect(fault("text", {}, { temperature: "", humidity: 50 })).toEqual([
      '/temperature "" is not a number',
      "/humidity is not text",
    ]);
  });
  it("what is missing is missing, and the rest is read", () => {
    const { readings, faults, notes } = read("flat", {}, { ts: 1_769_774_400, floor_c: -127, rh: 50 });
    expect(readings.map(({ quantity }) => quantity)).toEqual(["rh"]);
    expect(faults).toEqual([{ field: "/air_c", reason: "is not there: air was expected" }]);
    expect(notes).toEqual(["slab: -127 stands for missing", "battery: not in this message"]);
  });
  it("a time in the wrong unit is seen", () => {
    expect(fault("flat", {}, { ts: 1_769_774_400_000, floor_c: 1, air_c: 1, rh: 1 })[0]).toContain(
      "milliseconds may be mixed up",
    );
    expect(fault("nested", {}, { received: "2026-01-30T12:00:00", device: { serial: "0012A7" } })[0]).toContain(
      "offset",
    );
  });
  it("a channel that stands twice is none", () => {
    const body = {
      t: SAID_MS,
      channels: [
        { ch: 1, value: 1 },
        { ch: 1, value: 2 },
        { ch: 2, value: 3 },
        { ch: 5, value: 4 },
      ],
    };
    expect(fault("channels", {}, body)).toEqual(["/channels has 2 items in which /ch is 1"]);
    expect(fault("channels", {}, { t: SAID_MS, channels: {} })[0]).toBe("/channels is not a list");
  });
  it("a name that is not in the table is no node", () => {
    expect(fault("nested", {}, { received: "2026-01-30T12:00:00Z", device: { serial: "toString" } })[0]).toContain(
      "has no node in this recipe",
    );
    expect(fault("flat", { node: { at: "/rh" } }, { rh: true })[0]).toContain("is not a name");
  });
  it("an empty message says so", () => {
    expect(fault("text", { values: [{ quantity: "air", at: "/x", unit: "C", optional: true }] })).toEqual([
      "/ holds none of the recipe's values",
    ]);
    for (const body of [null, 7, "text", []]) expect(read("flat", {}, body).readings).toEqual([]);
  });
});

describe("recipes together", () => {
  const { recipe } = example("flat");
  it("are refused when their parts do not fit", () => {
    const wrong = (change: object) => recipeFaults({ ...recipe, ...change } as RecipeBody).map(({ field }) => field);
    expect(wrong({ topic: "#" })).toEqual(["/topic"]);
    expect(wrong({ topic: "nightslab/v1/+/node/+/senml" })).toEqual(["/topic"]);
    expect(wrong({ node: {} })).toEqual(["/node"]);
    expect(wrong({ node: { fixed: "a", level: 2 } })).toEqual(["/node"]);
    expect(wrong({ node: { level: 9 } })).toEqual(["/node/level"]);
    expect(wrong({ values: [{ quantity: "rh", at: "/rh", unit: "C" }] })).toEqual(["/values/0/unit"]);
    expect(wrong({ values: [{ quantity: "mood", at: "/rh", unit: "C" }] })).toEqual(["/values/0/quantity"]);
    expect(readRecipe({ ...recipe, guess: true })).toMatchObject({ ok: false, faults: [{ field: "/guess" }] });
  });
  it("never read one topic twice", () => {
    expect(recipesFaults([recipe, { ...recipe, id: "two", topic: "floor/corner/#" }])).toEqual([
      { field: "/1/topic", reason: 'overlaps with that of "flat"' },
    ]);
  });
});

// MQTT 3.1.1, section 4.7.1: examples of the text, and cases around them.
describe("topic filters", () => {
  it.each([
    ["sport/tennis/player1/#", "sport/tennis/player1", true],
    ["sport/tennis/player1/#", "sport/tennis/player1/score/wimbledon", true],
    ["sport/tennis/+", "sport/tennis/player1/ranking", false],
    ["sport/+", "sport", false],
    ["sport/+", "sport/", true],
    ["+/+", "/finance", true],
    ["+", "/finance", false],
  ])("%s on %s: %s", (filter, topic, matches) => expect(filterMatches(filter, topic)).toBe(matches));
  it.each([
    ["a/+/c", "a/b/+", true],
    ["a/#", "a", true],
    ["a/b", "a/b/c", false],
    ["+/b", "a/c", false],
  ])("%s and %s overlap: %s", (one, other, overlap) => {
    expect(filtersOverlap(one, other)).toBe(overlap);
    expect(filtersOverlap(other, one)).toBe(overlap);
  });
  it.each(["", "a+/b", "a/#/b", "+/a", "$SYS/a"])("%s is none", (filter) => expect(filterFault(filter)).not.toBeNull());
});
