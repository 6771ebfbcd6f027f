// Values at places of an order are those that sorting gives, whatever the values are.
import { expect, it } from "vitest";
import { placesIn, scratchFor } from "#core/outlook/select.ts";

/** Even numbers in (0, 1), the same in every run. */
function dice(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
}

const KINDS: Record<string, (roll: () => number) => number> = {
  "evenly spread": (roll) => 40 * roll() - 20,
  "few that are many times there": (roll) => Math.floor(4 * roll()),
  "all equal": () => 7.3,
  "most of them close together": (roll) => (roll() < 0.95 ? 10 + 1e-9 * roll() : 1e6 * roll()),
  "some endless": (roll) => (roll() < 0.1 ? Number.POSITIVE_INFINITY : roll()),
  "some no number": (roll) => (roll() < 0.1 ? Number.NaN : roll()),
};

it.each(Object.keys(KINDS))("finds what sorting finds: %s", (kind) => {
  const roll = dice(11);
  const draw = KINDS[kind] as (roll: () => number) => number;
  for (let round = 0; round < 300; round++) {
    const count = round % 5 === 0 ? 1 + Math.floor(60 * roll()) : 200;
    const values = Float64Array.from({ length: count + 6 }, () => draw(roll));
    const before = values.slice();
    const places = [0, 0.1, 0.5, 0.9, 1].map((share) => Math.min(count - 1, Math.floor(share * count)));
    const found = new Float64Array(places.length);
    placesIn(values, 3, count, places, found, scratchFor(count));
    const sorted = values.slice(3, 3 + count).sort();
    expect([...found]).toEqual(places.map((place) => sorted[place]));
    expect(values).toEqual(before);
  }
});

it("finds the same with a scratch that was used before", () => {
  const roll = dice(5);
  const scratch = scratchFor(200);
  const found = new Float64Array(1);
  for (let round = 0; round < 50; round++) {
    const values = Float64Array.from({ length: 200 }, () => roll() * (round + 1));
    placesIn(values, 0, 200, [99], found, scratch);
    expect(found[0]).toBe(values.sort()[99]);
  }
});
