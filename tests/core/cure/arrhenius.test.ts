// Age and maturity against equivalent-age.csv, and the trap of the mean temperature.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ageFactor,
  cementEaJPerMol,
  eaFromLocalQ10,
  eaFromTimeRatio,
  ec2AgeFactor,
  equivalentAgeH,
  nurseSaulCH,
} from "#core/cure/arrhenius.ts";
import { expectMeasured } from "../../support/expect-measured.ts";
import { measureEquivalentAge, NOT_APPLICABLE, rampHistory } from "../../support/measure/equivalent-age.ts";

describe("against outside truth", () => {
  it("meets all rows that its laws compute and names the others", () => {
    // Source: tests/reference/equivalent-age (ASTM C1074, EN 1992-1-1, guide specifications, published kinetics).
    const measured = measureEquivalentAge();
    expectMeasured(measured, {
      rowsRead: 437,
      checkedByKind: {
        age_conversion_factor: 196,
        age_conversion_factor_Q: 18,
        fhp_activation_energy: 11,
        fhp_age_factor: 11,
        ec2_temperature_adjusted_age_factor: 9,
        nurse_saul_TTF: 3,
        equivalent_age: 5,
        equivalent_age_fhp: 1,
        equivalent_age_linear_ramp: 2,
        equivalent_age_at_mean_temperature: 2,
        ea_for_doubling_per_10K: 8,
        ea_for_Q10_2_at_T: 1,
        time_ratio_13C_over_23C: 6,
        time_ratio_55F_over_73F: 6,
        arrhenius_fit_ea: 7,
        arrhenius_fit_time_at_23C: 7,
        arrhenius_fit_rms_lnresidual: 7,
        pot_life_h: 2,
        "nth_order_conversion n=1 k=0.25/h": 4,
        "nth_order_conversion n=1.5 k=0.25/h": 3,
        "nth_order_conversion n=2 k=0.25/h": 3,
        "nth_order_conversion n=2.5 k=0.25/h": 3,
        "kamal m=1 n=1 k1=0.02/h k2=0.5/h": 5,
        kamal_conversion: 15,
        "kamal_conversion_cyclic T=15+8cos(2pi t/24)": 5,
        lee_loos_springer_rate: 21,
      },
      notApplicable: {
        cure_time_h: 34,
        relative_cure_time: 3,
        "pot_life_h (printed)": 2,
        literature_activation_energy: 10,
        dibenedetto_Tg: 16,
        "vitrification_conversion (Tg=Tcure)": 10,
        "flory_gel_conversion stoichiometric diepoxide+diamine": 1,
      },
    });
    expect(Object.keys(NOT_APPLICABLE).sort()).toEqual(Object.keys(measured.notApplicable).sort());
  });

  it("shows the averaging trap: the mean temperature of a falling night gives 7 and 13 % too little", () => {
    for (const [eaJPerMol, low] of [
      [40_000, 0.07],
      [55_000, 0.13],
    ] as const) {
      const true_ = equivalentAgeH(rampHistory(12), 23, eaJPerMol);
      const mean = equivalentAgeH([{ hours: 12, tempC: 17.5 }], 23, eaJPerMol);
      expect(1 - mean / true_).toBeCloseTo(low, 2);
    }
  });

  it("reads 'doubles per 10 °C' as about 50 kJ/mol at 23 °C", () => {
    expect(eaFromLocalQ10(23, 2)).toBeGreaterThan(50_000);
    expect(eaFromLocalQ10(23, 2)).toBeLessThan(51_000);
  });
});

describe("properties", () => {
  const tempC = fc.double({ min: -20, max: 60, noNaN: true });
  const ea = fc.double({ min: 20_000, max: 90_000, noNaN: true });

  it("is 1 at its reference, grows with temperature, and turns round", () => {
    fc.assert(
      fc.property(tempC, tempC, ea, (a, b, eaJPerMol) => {
        expect(ageFactor(a, a, eaJPerMol)).toBe(1);
        expect(ageFactor(a, b, eaJPerMol) * ageFactor(b, a, eaJPerMol)).toBeCloseTo(1, 9);
        if (a > b + 0.01) expect(ageFactor(a, b, eaJPerMol)).toBeGreaterThan(1);
      }),
    );
  });

  it("never makes a varying night older than its mean would only if the mean is the truth: convex in the cold", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 15, noNaN: true }),
        fc.double({ min: 0.5, max: 8, noNaN: true }),
        ea,
        (meanC, swingK, eaJPerMol) => {
          const swung = [
            { hours: 5, tempC: meanC - swingK },
            { hours: 5, tempC: meanC + swingK },
          ];
          expect(equivalentAgeH(swung, 23, eaJPerMol)).toBeGreaterThan(
            equivalentAgeH([{ hours: 10, tempC: meanC }], 23, eaJPerMol),
          );
        },
      ),
    );
  });

  it("finds the energy that gives a ratio, and the ratio back from it", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 20, noNaN: true }),
        fc.double({ min: 1, max: 15, noNaN: true }),
        fc.double({ min: 1.05, max: 6, noNaN: true }),
        (coldC, stepK, ratio) => {
          expect(1 / ageFactor(coldC, coldC + stepK, eaFromTimeRatio(coldC, coldC + stepK, ratio))).toBeCloseTo(
            ratio,
            8,
          );
        },
      ),
    );
  });

  it("sums stretches in any split, and the datum stops the cold", () => {
    const whole = [{ hours: 6, tempC: 11 }];
    const split = [
      { hours: 2.5, tempC: 11 },
      { hours: 3.5, tempC: 11 },
    ];
    expect(equivalentAgeH(split, 20, 45_000)).toBeCloseTo(equivalentAgeH(whole, 20, 45_000), 12);
    expect(nurseSaulCH([{ hours: 9, tempC: -12 }], -10)).toBe(0);
  });

  it("keeps the printed oddities of the standards", () => {
    expect(ec2AgeFactor(20)).toBeCloseTo(0.9981, 4);
    expect(cementEaJPerMol(20)).toBe(33_500);
    expect(cementEaJPerMol(35)).toBe(33_500);
    expect(cementEaJPerMol(10)).toBe(48_200);
  });
});

describe("guards", () => {
  it("names what is wrong", () => {
    expect(() => ageFactor(Number.NaN, 23, 50_000)).toThrow(/tempC/);
    expect(() => ageFactor(12, 900, 50_000)).toThrow(/refC/);
    expect(() => ageFactor(12, 23, -1)).toThrow(/eaJPerMol/);
    expect(() => equivalentAgeH([{ hours: -2, tempC: 12 }], 23, 50_000)).toThrow(/hours/);
    expect(() => nurseSaulCH([{ hours: 2, tempC: 12 }], Number.NaN)).toThrow(/datumC/);
    expect(() => cementEaJPerMol(Number.NaN)).toThrow(/tempC/);
    expect(() => ec2AgeFactor(-400)).toThrow(/tempC/);
    expect(() => eaFromTimeRatio(20, 20, 2)).toThrow(/warmC - coldC/);
    expect(() => eaFromTimeRatio(10, 20, 0)).toThrow(/ratio/);
    expect(() => eaFromLocalQ10(20, Number.NaN)).toThrow(/ratio/);
  });
});
