// Numbers on the screen: units, differences, lengths of time.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  showBoth,
  showChance,
  showDifference,
  showDuration,
  showMeasure,
  showTemperature,
} from "../../dashboard/units/show.ts";
import { cFromTyped, numberFromTyped } from "../../dashboard/units/typed.ts";

const plainSpaces = (text: string) => text.replaceAll("\u00a0", " ");

describe("temperatures and differences", () => {
  it("a difference of 3 K is 5.4 °F and 3 °C; a temperature of 3 °C is 37.4 °F (NIST SP 811, B.8, exact)", () => {
    expect(plainSpaces(showDifference(3, "us"))).toBe("5.4 °F");
    expect(plainSpaces(showDifference(3, "si"))).toBe("3 °C");
    expect(plainSpaces(showTemperature(3, "us"))).toBe("37.4 °F");
    expect(plainSpaces(showBoth(3, "K", "us"))).toBe("5.4 °F (3 °C)");
    expect(plainSpaces(showBoth(3, "C", "si"))).toBe("3 °C (37.4 °F)");
    expect(plainSpaces(showBoth(-0.3, "K/h", "us"))).toBe("−0.5 °F/h (−0.3 °C/h)");
  });
  it("no difference is ever shifted by 32", () => {
    fc.assert(
      fc.property(fc.double({ min: -40, max: 40, noNaN: true }), (k) => {
        const shown = Number(plainSpaces(showDifference(k, "us")).replace(" °F", "").replace("−", "-"));
        expect(Math.abs(shown - k * 1.8)).toBeLessThanOrEqual(0.0501);
      }),
    );
  });
  it("zero has no sign", () => {
    expect(plainSpaces(showDifference(-0.01, "si"))).toBe("0 °C");
  });
});

describe("other units", () => {
  it.each([
    [61.4, "%RH", "us", "61 %"],
    [5, "g/kg", "us", "35 gr/lb"],
    [5, "g/kg", "si", "5 g/kg"],
    [0.713, "1", "si", "71 %"],
    [100, "m2", "us", "1076 ft²"],
    [2.5, "h", "us", "2 h 30"],
    [3, "lb", "si", "3 lb/1000 ft²·24 h"],
  ] as const)("%s %s in %s is %s", (value, unit, system, shown) => {
    // 7000 grains in a pound and 0.3048 m in a foot are exact (NIST Handbook 44, appendix C).
    expect(plainSpaces(showMeasure(value, unit, system))).toBe(shown);
  });
  it("a chance is never shown as certain", () => {
    expect(plainSpaces(showChance(1))).toBe("99 %");
    expect(plainSpaces(showChance(0))).toBe("1 %");
    expect(plainSpaces(showChance(0.82))).toBe("82 %");
  });
  it.each([
    [0, "0 min"],
    [97 * 60_000, "97 min"],
    [105 * 60_000, "1 h 45"],
    [160 * 60_000, "2 h 40"],
    [119.6 * 60_000, "2 h"],
    [24 * 3_600_000, "24 h"],
    [76 * 3_600_000, "3 d 4 h"],
    [72 * 3_600_000, "3 d"],
  ])("%d ms is %s", (ms, shown) => {
    expect(plainSpaces(showDuration(ms))).toBe(shown);
  });
});

describe("typed numbers", () => {
  it("reads points, commas and signs, and refuses the rest", () => {
    expect(numberFromTyped(" 12,5 ")).toBe(12.5);
    expect(numberFromTyped("−3")).toBe(-3);
    expect(numberFromTyped(".5")).toBe(0.5);
    expect(numberFromTyped("")).toBeNull();
    for (const bad of ["1e3", "12 F", "--1", "1.2.3", "Infinity", "."]) expect(numberFromTyped(bad)).toBeNaN();
  });
  it("turns the person's degrees into °C", () => {
    // 50 °F is 10 °C, exact.
    expect(cFromTyped("50", "us")).toBe(10);
    expect(cFromTyped("50", "si")).toBe(50);
    expect(cFromTyped("", "us")).toBeNull();
    expect(cFromTyped("warm", "us")).toBeNaN();
  });
});
