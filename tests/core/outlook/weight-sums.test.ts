// Counting members that weigh the same is adding them up, to the last bit.
import { expect, it } from "vitest";
import type { OutlookMember } from "#core/outlook/outlook.ts";
import { weightSums } from "#core/outlook/weight-sums.ts";

const membersOf = (weights: readonly number[]): OutlookMember[] =>
  weights.map((weight) => ({
    weight,
    slabColdC: new Float64Array(0),
    slabHotC: new Float64Array(0),
    airC: new Float64Array(0),
    dewPointC: new Float64Array(0),
  }));

it.each([1, 3, 7, 200])("of %i members", (count) => {
  const weights = Array.from({ length: count }, () => 1 / count);
  const sums = weightSums(membersOf(weights));
  let sum = 0;
  expect(sums?.[0]).toBe(0);
  for (const [index, weight] of weights.entries()) {
    sum += weight;
    expect(sums?.[index + 1]).toBe(sum);
  }
  expect(sums).toHaveLength(count + 1);
});

it("says nothing where one weighs more", () => {
  expect(weightSums(membersOf([0.25, 0.25, 0.5]))).toBeNull();
  expect(weightSums([])).toEqual(new Float64Array(1));
});
