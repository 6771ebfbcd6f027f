// Columns in little memory hold what arrays would hold, to the last bit, whatever the numbers and whatever is done to them.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LiveColumn, Shelf } from "../../server/live/columns.ts";

const HOUR_MS = 3_600_000;
const NOW_MS = Date.UTC(2026, 1, 3, 12);

const value = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: -40_000, max: 40_000 }).map((steps) => steps / 100) },
  { weight: 3, arbitrary: fc.integer({ min: -40_000, max: 40_000 }).map((steps) => steps / 16) },
  { weight: 2, arbitrary: fc.integer({ min: -(2 ** 31) - 9, max: 2 ** 31 + 9 }).map((steps) => steps / 1e6) },
  fc.constantFrom(0, -0, 0.1 + 0.2, 21.37, 1e-9, 1e300, 327.67, 327.68, -327.69, 5e-324, Infinity, -Infinity),
  fc.double(),
);
const time = fc.oneof(
  { weight: 6, arbitrary: fc.integer({ min: -(10 ** 8), max: 10 ** 8 }).map((ms) => NOW_MS + ms) },
  fc.integer({ min: -(2 ** 31) - 9, max: 2 ** 31 + 9 }).map((ms) => NOW_MS + ms),
  fc.constantFrom(0, -0, NOW_MS + 0.5, Number.MAX_SAFE_INTEGER, -Number.MAX_SAFE_INTEGER, 1e300),
  fc.double({ noNaN: true }),
);

type Deed =
  | { readonly did: "push"; readonly number: number }
  | { readonly did: "insert"; readonly place: number; readonly number: number }
  | { readonly did: "fill"; readonly numbers: readonly number[] }
  | { readonly did: "cut"; readonly end: number; readonly kept: readonly number[] };

const deed = (number: fc.Arbitrary<number>): fc.Arbitrary<Deed> =>
  fc.oneof(
    { weight: 8, arbitrary: fc.record({ did: fc.constant("push" as const), number }) },
    { weight: 3, arbitrary: fc.record({ did: fc.constant("insert" as const), place: fc.nat(40), number }) },
    fc.record({ did: fc.constant("fill" as const), numbers: fc.array(number, { maxLength: 30 }) }),
    fc.record({ did: fc.constant("cut" as const), end: fc.nat(40), kept: fc.array(fc.nat(40), { maxLength: 5 }) }),
  );

function doBoth(column: LiveColumn, plain: number[], one: Deed): void {
  if (one.did === "push") {
    column.push(one.number);
    plain.push(one.number);
  } else if (one.did === "insert") {
    const place = Math.min(one.place, plain.length);
    column.insert(place, one.number);
    plain.splice(place, 0, one.number);
  } else if (one.did === "fill") {
    column.fill(one.numbers);
    plain.splice(0, plain.length, ...one.numbers);
  } else {
    const end = Math.min(one.end, plain.length);
    const kept = [...new Set(one.kept)].filter((place) => place < end).sort((a, b) => a - b);
    column.cut(end, kept);
    plain.splice(0, end, ...kept.map((place) => plain[place] as number));
  }
}

function expectSame(column: LiveColumn, plain: readonly number[]): void {
  const numbers = column.slice();
  expect(numbers.length).toBe(plain.length);
  expect(column.length).toBe(plain.length);
  expect(plain.some((number) => number > column.most)).toBe(false);
  expect(plain.findIndex((number, place) => !Object.is(number, numbers[place]))).toBe(-1);
  for (const place of [-plain.length - 1, -plain.length, -1, 0, 1, plain.length - 1, plain.length])
    expect(Object.is(column.at(place), plain.at(place))).toBe(true);
  for (const [from, to] of [
    [2, 5],
    [-3, -1],
    [0, 100],
    [5, 2],
    [-100, 3],
  ] as const)
    expect(column.slice(from, to)).toEqual(plain.slice(from, to));
}

describe("columns of a node", () => {
  it("hold what arrays hold, to the last bit, beside each other", () => {
    const step = fc.oneof(
      fc.record({ which: fc.constantFrom(0, 1), deed: deed(value) }),
      fc.record({ which: fc.constantFrom(2, 3), deed: deed(time) }),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        const shelf = new Shelf();
        const columns = [shelf.values(), shelf.values(), shelf.times(), shelf.times()];
        const plain: number[][] = columns.map(() => []);
        for (const { which, deed: one } of steps) doBoth(columns[which] as LiveColumn, plain[which] as number[], one);
        for (const [which, column] of columns.entries()) expectSame(column, plain[which] as number[]);
      }),
      { numRuns: 1000 },
    );
  });

  it("stay what they were when others leave and come from elsewhere", () => {
    const [one, other] = [new Shelf(), new Shelf()];
    const [stays, leaves, comes] = [one.values(), one.values(), other.times()];
    for (let round = 0; round < 20; round++) {
      stays.push(round / 100);
      leaves.push(round / 16);
      comes.push(NOW_MS + round);
    }
    one.keepOnly(new Set([stays, comes]));
    const rounds = Array.from({ length: 100 }, (_, round) => round);
    for (let round = 20; round < 100; round++) {
      comes.push(NOW_MS + round);
      stays.push(round / 100);
    }
    expect(leaves.slice()).toEqual(rounds.slice(0, 20).map((round) => round / 16));
    expect(stays.slice()).toEqual(rounds.map((round) => round / 100));
    expect(comes.slice()).toEqual(rounds.map((round) => NOW_MS + round));
  });

  it("take two bytes for a value in hundredths or sixteenths, four for a time, and eight only while a number needs them", () => {
    const shelf = new Shelf();
    const [hundredths, sixteenths, times] = [shelf.values(), shelf.values(), shelf.times()];
    const bytes = () => [hundredths, sixteenths, times].map(({ form }) => form.units * 2);
    for (let round = 0; round < 4000; round++) {
      hundredths.push(Math.round(2137 + 500 * Math.sin(round)) / 100);
      sixteenths.push((1 - round) / 16);
      times.push(NOW_MS + round * 60_000);
    }
    expect(bytes()).toEqual([2, 2, 4]);
    hundredths.push(0.1 + 0.2);
    times.insert(0, 0);
    expect(bytes()).toEqual([8, 2, 8]);
    times.cut(4000, []);
    hundredths.push(21.37);
    hundredths.cut(4001, [0]);
    expect(bytes()).toEqual([2, 2, 4]);
    expect(hundredths.slice()).toEqual([21.37, 21.37]);
    expect(times.slice()).toEqual([NOW_MS + 3999 * 60_000]);
  });

  it("take four bytes for a time also after months", () => {
    const times = new Shelf().times();
    for (let hour = 0; hour < 4000; hour++) {
      times.push(NOW_MS + hour * HOUR_MS);
      if (times.length > 80) times.cut(5, []);
    }
    expect(times.form.units).toBe(2);
    expect(times.at(-1)).toBe(NOW_MS + 3999 * HOUR_MS);
  });
});
