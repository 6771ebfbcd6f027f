// What is said to be new is new, in whatever order and with whatever rests readings come.
import fc from "fast-check";
import { expect, it } from "vitest";
import { KnownTimes } from "../../server/store/known-times.ts";

const STEP_MS = 60_000;

it("never calls a time new that stands, nor one that may stand before", () => {
  const arrivals = fc.array(
    fc.record({ step: fc.integer({ min: 0, max: 600 }), restMs: fc.constantFrom(0, 1, 3000) }),
    {
      maxLength: 800,
    },
  );
  fc.assert(
    fc.property(arrivals, fc.integer({ min: -1, max: 300 }), (all, newestStep) => {
      const times = new KnownTimes(newestStep < 0 ? Number.NEGATIVE_INFINITY : newestStep * STEP_MS);
      const stands = new Set<number>();
      let heardMs = 0;
      for (const { step, restMs } of all) {
        heardMs += restMs;
        const atMs = step * STEP_MS;
        const isNew = times.take(atMs, heardMs);
        if (isNew) expect(stands.has(atMs) || step <= newestStep).toBe(false);
        stands.add(atMs);
      }
    }),
  );
});

it("knows as new what is later than all, and what lines of a broker bring in disorder", () => {
  const times = new KnownTimes(0);
  const lines = [0, 1, 2, 3].map((line) => Array.from({ length: 60 }, (_, at) => (1 + at * 4 + line) * STEP_MS));
  for (const atMs of lines.flat()) expect(times.take(atMs, 1000)).toBe(true);
  for (const atMs of lines.flat()) expect(times.take(atMs, 1001)).toBe(false);
  expect(times.take(241 * STEP_MS, 9000)).toBe(true);
  expect(times.take(240.5 * STEP_MS, 9001)).toBe(true);
  expect(times.take(239.5 * STEP_MS, 9002)).toBe(false);
});
