// Faults of the link: read strictly, drawn by seed, in the shares that were asked for.
import { describe, expect, it } from "vitest";
import { fateOf, NO_FAULTS, readFaults } from "../../../firmware-sim/link/faults.ts";

describe("readFaults", () => {
  it("reads several, apart or in one", () => {
    expect(readFaults(["drop=0.1,delay=90", "skew=-300"])).toEqual({ ...NO_FAULTS, drop: 0.1, delay: 90, skew: -300 });
  });
  it.each([
    ["drip=1", /"drip=1" is not a fault; faults are drop, repeat/],
    ["drop=1.2", /drop must be a share from 0 to 1, not "1.2"/],
    ["drop=", /drop must be/],
    ["drop", /drop must be/],
    ["delay=-1", /delay must be seconds/],
    ["skew=1=2", /skew must be/],
    ["toString=1", /is not a fault/],
  ])("refuses %s and says why", (text, why) => expect(() => readFaults([text])).toThrow(why));
});

describe("fateOf", () => {
  const fates = (faults: object, seed = 3) =>
    Array.from({ length: 4000 }, (_, i) => fateOf({ ...NO_FAULTS, ...faults }, seed, "n1", i, 300));

  it("without faults each pack arrives once and at once", () => {
    expect(fates({}).every((fate) => fate.length === 1 && fate[0] === 0)).toBe(true);
  });
  it("drops and repeats in the share that was asked for", () => {
    const gone = fates({ drop: 0.1 }).filter((fate) => fate.length === 0).length / 4000;
    const twice = fates({ repeat: 0.25 }).filter((fate) => fate.length === 2).length / 4000;
    // Three standard deviations of a share over 4000 draws.
    expect(Math.abs(gone - 0.1)).toBeLessThan(0.015);
    expect(Math.abs(twice - 0.25)).toBeLessThan(0.021);
  });
  it("delays below the longest, and lets a pack be overtaken by the next", () => {
    const late = fates({ delay: 90 }).map((fate) => fate[0] ?? Number.NaN);
    expect(Math.max(...late)).toBeLessThan(90);
    expect(Math.max(...late)).toBeGreaterThan(80);
    expect(fates({ reorder: 1 }).every((fate) => (fate[0] ?? 0) > 300)).toBe(true);
  });
  it("repeats by seed and differs by node", () => {
    expect(fates({ drop: 0.5 })).toEqual(fates({ drop: 0.5 }));
    expect(fates({ drop: 0.5 })).not.toEqual(fates({ drop: 0.5 }, 4));
    const other = Array.from({ length: 4000 }, (_, i) => fateOf({ ...NO_FAULTS, drop: 0.5 }, 3, "n2", i, 300));
    expect(other).not.toEqual(fates({ drop: 0.5 }));
  });
});
