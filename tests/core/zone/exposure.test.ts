// What a film went through: minutes in dew and below the limit by linear crossing, gaps, and what a finding clears.
import { describe, expect, it } from "vitest";
import { exposureOf } from "#core/zone/exposure.ts";
import { every10Min, lineOf, type Point } from "../../support/line.ts";
import { HOUR_MS, MINUTE_MS, NOON_MS } from "../../support/night-log.ts";

const minute = (minutes: number) => NOON_MS + minutes * MINUTE_MS;
/** Points of a margin over a dew point of 10 °C. */
const margins = (...list: readonly (readonly [minutes: number, marginK: number])[]): Point[] =>
  list.map(([minutes, marginK]) => ({ atMs: minute(minutes), slabC: 10 + marginK, dewC: 10 }));

function exposed(points: readonly Point[], { fromMin = 0, untilMin = 600, sinceMs = Number.NEGATIVE_INFINITY } = {}) {
  return exposureOf(lineOf(points), minute(fromMin), minute(untilMin), 3, sinceMs);
}
const even = (toMin: number, marginK: number) =>
  every10Min(minute(0), minute(toMin), () => ({ slabC: 10 + marginK, dewC: 10 }));

describe("minutes", () => {
  it("are counted from crossing to crossing, exactly", () => {
    // From 1 K to -1 K in 20 min and back: below zero for the middle 20 of 40 minutes; below 3 K all the time.
    const dip = exposed(margins([0, 1], [20, -1], [40, 1]), { untilMin: 40 });
    expect(dip.dewMin).toBeCloseTo(20, 6);
    expect(dip.lastDewMs).toBeCloseTo(minute(30), -1);
    expect(dip.belowMin).toBeCloseTo(40, 6);
    // From 4 K to 2 K in 10 min: half of them below the limit of 3 K, from the fifth minute on.
    const falling = exposed(margins([0, 4], [10, 2]), { untilMin: 10 });
    expect(falling.belowMin).toBeCloseTo(5, 6);
    expect(falling.dewMin).toBe(0);
  });

  it("at the dew point itself is dew; at the limit itself is not below it", () => {
    expect(exposed(even(30, 0), { untilMin: 30 }).dewMin).toBeCloseTo(30, 6);
    expect(exposed(even(30, 3), { untilMin: 30 }).belowMin).toBe(0);
  });

  it("count only from the first square metre to the end of the sensitive time", () => {
    expect(exposed(even(300, -1), { fromMin: 95, untilMin: 128 }).dewMin).toBeCloseTo(33, 6);
  });

  it("add up over spells", () => {
    const spells = margins([0, 1], [10, -1], [20, 1], [30, -1], [40, 1]);
    expect(exposed(spells, { untilMin: 40 }).dewMin).toBeCloseTo(20, 6);
  });
});

describe("a finding that the surface is clean", () => {
  it("clears the minutes below the limit before it, but not dew", () => {
    const found = exposed(even(120, -1), { untilMin: 120, sinceMs: minute(100) });
    expect(found.belowMin).toBeCloseTo(20, 6);
    expect(found.dewMin).toBeCloseTo(120, 6);
  });
});

describe("gaps", () => {
  it("of 30 minutes and less are bridged, longer ones are not", () => {
    expect(exposed(margins([0, 5], [30, 5]), { untilMin: 30 }).gapMin).toBe(0);
    expect(exposed(margins([0, 5], [31, 5]), { untilMin: 31 })).toMatchObject({
      gapMin: 31,
      gapEndMs: minute(31),
      belowMin: 0,
    });
  });

  it("the longest counts, within the sensitive time, and silence at its end too", () => {
    expect(exposed(margins([0, 5], [50, 5], [60, 5], [150, 5]), { untilMin: 150 }).gapMin).toBe(90);
    expect(exposed(margins([0, 5], [10, 5]), { untilMin: 100 }).gapMin).toBe(90);
    expect(exposed(margins([-60, 5], [50, 5]), { untilMin: 60 }).gapMin).toBe(50);
    expect(exposed(margins([0, 5], [100, 5]), { untilMin: 20 }).gapMin).toBe(0);
  });

  it("that ended before a clean finding are cleared by it", () => {
    const points = margins([0, 5], [60, 5], [70, 5], [80, 5]);
    expect(exposed(points, { untilMin: 80, sinceMs: minute(75) }).gapMin).toBe(0);
    expect(exposed(points, { untilMin: 80, sinceMs: minute(59) }).gapMin).toBe(60);
  });

  it("without any reading are the whole time", () => {
    expect(exposed(margins([-300, 5]), { untilMin: 240 }).gapMin * MINUTE_MS).toBe(4 * HOUR_MS);
  });
});
