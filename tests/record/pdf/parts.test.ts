// The parts of a document: letters that the fonts have, figures in both systems, the site's clock, and lines without their gaps.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { figuresOf } from "../../../server/record/pdf/figures.ts";
import { drawable, isDrawable } from "../../../server/record/pdf/letters.ts";
import { roundNumbers } from "../../../server/record/pdf/scale.ts";
import { segmentsOf, thinned } from "../../../server/record/pdf/segments.ts";
import { siteClock } from "../../../server/record/pdf/site-clock.ts";
import { EN } from "../../../server/record/pdf/words-en.ts";
import { ES } from "../../../server/record/pdf/words-es.ts";

/** All texts below an object; functions are asked with numbers and words that a record would give. */
function textsIn(value: unknown): string[] {
  if (typeof value === "string") return [value];
  if (typeof value === "function") {
    const say = value as (...of: unknown[]) => unknown;
    return [0, 1, 2].flatMap((n) => textsIn(say(n, n, n)));
  }
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(textsIn) : [];
}

describe("letters", () => {
  it.each([
    ["English", EN],
    ["Spanish", ES],
  ] as const)("%s words are all in the fonts as they stand", (_name, words) => {
    const texts = textsIn(words);
    expect(texts.length).toBeGreaterThan(250);
    expect(texts.filter((text) => text !== drawable(text))).toEqual([]);
  });

  it("knows the signs of the trade, and lets no letter vanish", () => {
    expect(drawable("−0.4 K ≤ 3 K, 5 µm, 20 °C, ft², ¿Qué?, niño")).toBe(
      "–0.4 K <= 3 K, 5 µm, 20 °C, ft², ¿Qué?, niño",
    );
    expect(drawable("Łucja Dvořák")).toBe("Lucja Dvorák");
    expect(drawable("水 😀\u0000\u200b")).toBe("[U+6C34] [U+1F600]");
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 30 }), (text) => [...drawable(text)].every(isDrawable)),
      { numRuns: 60 },
    );
  });
});

describe("figures", () => {
  const us = figuresOf("us");
  const plain = (text: string) => text.replaceAll("\u00a0", " ");
  it("give temperatures and differences in both systems, the 32 for temperatures only", () => {
    expect(plain(us.temperature(10))).toBe("50.0 °F (10.0 °C)");
    expect(plain(us.temperature(-40))).toBe("–40.0 °F (–40.0 °C)");
    expect(plain(us.difference(3))).toBe("5.4 °F (3.0 K)");
    expect(plain(us.difference(-0.4))).toBe("–0.7 °F (–0.4 K)");
    expect(plain(figuresOf("si").measure(1, "K/h"))).toBe("1.0 K/h (1.8 °F/h)");
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), (k) => {
        const [f = 0, shownK = 0] = [
          ...us
            .difference(k)
            .replaceAll("–", "-")
            .matchAll(/-?\d+\.\d/g),
        ].map(Number);
        expect(Math.abs(f - 1.8 * k)).toBeLessThan(0.0501);
        expect(Math.abs(shownK - k)).toBeLessThan(0.0501);
      }),
    );
  });
  it("give the rest with their units", () => {
    expect(plain(us.area(92.903))).toBe("1000 ft² (92.9 m²)");
    // 1.5 MPa is 217.6 psi (NIST SP 811, appendix B); 42 gr/lb is 6 g/kg exactly.
    expect(plain(us.strength(1.5))).toBe("218 psi (1.5 MPa)");
    expect(plain(us.water(6))).toBe("42 gr/lb (6.0 g/kg)");
    expect(plain(us.depth(254))).toBe("10 mil (254 µm)");
    expect([45, 60, 105, 2880].map((minutes) => plain(us.duration(minutes)))).toEqual([
      "45 min",
      "1 h",
      "1 h 45",
      "48 h",
    ]);
    expect(plain(us.measure(0.02, "1"))).toBe("2 %");
    expect(plain(us.measure(-0.04, null))).toBe("–0.04");
    expect(plain(us.temperature(-0.01))).toBe("32.0 °F (0.0 °C)");
  });
});

describe("the site's clock", () => {
  it("says the offset that held then, also over a change of the clock", () => {
    const chicago = siteClock("America/Chicago");
    // The clocks of Chicago went from 02:00 to 03:00 on 8 March 2026 (US Energy Policy Act 2005: second Sunday of March).
    const before = Date.UTC(2026, 2, 8, 7, 30);
    expect(chicago.stamp(before)).toBe("2026-03-08 01:30 -06:00");
    expect(chicago.stamp(before + 3_600_000)).toBe("2026-03-08 03:30 -05:00");
    expect(chicago.span(before, before + 3_600_000, "to")).toBe("2026-03-08 01:30 -06:00 to 2026-03-08 03:30 -05:00");
    expect(chicago.hours(before, before + 3 * 3_600_000, 1).map(({ hour }) => hour)).toEqual([3, 4, 5]);
    expect(siteClock("Asia/Kathmandu").stamp(Date.UTC(2026, 0, 1))).toBe("2026-01-01 05:45 +05:45");
    expect(chicago.span(Date.UTC(2026, 1, 3, 14), Date.UTC(2026, 1, 3, 16, 30), "to")).toBe(
      "2026-02-03 08:00 to 10:30 -06:00",
    );
    expect(chicago.span(Date.UTC(2026, 1, 3, 14), Date.UTC(2026, 1, 4, 14), "a")).toBe(
      "2026-02-03 08:00 a 2026-02-04 08:00 -06:00",
    );
  });
});

describe("lines", () => {
  const MINUTE = 60_000;
  const atMs = [0, 5, 10, 15, 20, 25].map((minute) => minute * MINUTE);
  it("end where nothing was heard: at a null, in a gap, and after half an hour", () => {
    expect(segmentsOf(atMs, [1, 2, null, 4, 5, 6], [], 0, 1e9).map(({ values }) => values)).toEqual([
      [1, 2],
      [4, 5, 6],
    ]);
    const far = [0, 5, 5 + 31, 5 + 36].map((minute) => minute * MINUTE);
    expect(segmentsOf(far, [1, 2, 3, 4], [], 0, 1e9)).toHaveLength(2);
    const near = [0, 5, 20, 25].map((minute) => minute * MINUTE);
    const gap = { fromMs: 6 * MINUTE, toMs: 19 * MINUTE };
    expect(segmentsOf(near, [1, 2, 3, 4], [], 0, 1e9)).toHaveLength(1);
    expect(segmentsOf(near, [1, 2, 3, 4], [gap], 0, 1e9)).toHaveLength(2);
    expect(segmentsOf(atMs, [1, 2, 3, 4, 5, Number.NaN], [], 4 * MINUTE, 16 * MINUTE)[0]?.values).toEqual([2, 3, 4]);
  });
  it("keep every peak when they are thinned", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -300, max: 300 }), { minLength: 1, maxLength: 400 }), (values) => {
        const run = { atMs: values.map((_, index) => index * MINUTE), values };
        const thin = thinned(run, 20 * MINUTE);
        expect(thin.values.length).toBeLessThanOrEqual(4 * Math.ceil(values.length / 20));
        expect([Math.min(...thin.values), Math.max(...thin.values)]).toEqual([
          Math.min(...values),
          Math.max(...values),
        ]);
        expect([thin.values[0], thin.values.at(-1)]).toEqual([values[0], values.at(-1)]);
      }),
    );
  });
  it("have round numbers at their sides", () => {
    expect(roundNumbers(3.2, 17.9, 4)).toEqual([5, 10, 15]);
    expect(roundNumbers(-1, 2, 3)).toEqual([-1, 0, 1, 2]);
  });
});
