// Heat in a slab: outside truth, conservation of energy, order, purity, and the textbook trap.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { advanceSlab, prepareStep, type SlabBottom, slabSurfaceC, stepSlab } from "#core/slab/conduction.ts";
import { slabGrid, slabHeatJPerM2 } from "#core/slab/grid.ts";
import { diffusivityM2PerS, MATERIALS } from "#core/slab/materials.ts";
import { erfc, inverseErf } from "../../support/closed-forms.ts";
import { expectMeasured } from "../../support/expect-measured.ts";
import { measureConduction } from "../../support/measure/conduction.ts";
import { measureSlabLag } from "../../support/measure/site-heat.ts";
import { runSlab } from "../../support/slab-run.ts";

const concrete = MATERIALS.concreteStoneMix;
const grid = slabGrid([
  { ...MATERIALS.epoxy, thicknessM: 0.003 },
  { ...concrete, thicknessM: 0.15 },
  { ...MATERIALS.soil, thicknessM: 0.8 },
]);
const tempC = fc.double({ min: -10, max: 40, noNaN: true });
const film = fc.double({ min: 0.5, max: 25, noNaN: true });
const bottoms = fc.oneof(
  fc.constant<SlabBottom>({ kind: "insulated" }),
  tempC.map((bottomC): SlabBottom => ({ kind: "fixed", tempC: bottomC })),
  fc.tuple(tempC, film).map(([airC, filmWPerM2K]): SlabBottom => ({ kind: "convective", airC, filmWPerM2K })),
);
const state = fc
  .array(tempC, { minLength: grid.cells, maxLength: grid.cells })
  .map((values) => Float64Array.from(values));

describe("against outside truth", () => {
  it("meets all 237 rows: closed forms, textbook examples, properties, and the slab model on every slab row", () => {
    // Source: tests/reference/conduction (Carslaw and Jaeger, Incropera, Cengel, EN ISO 10456).
    const measured = measureConduction();
    expectMeasured(measured, {
      rowsRead: 237,
      checkedByKind: {
        erf: 10,
        plane_wall_one_term: 20,
        plane_wall_one_term_exact: 20,
        plane_wall: 5,
        semi_infinite_surface_step: 16,
        semi_infinite_constant_flux: 2,
        semi_infinite_convection: 75,
        slab_insulated_below: 48,
        periodic_penetration: 9,
        two_semi_infinite_contact: 1,
        effusivity: 1,
        diffusivity: 1,
        lumped_plate_two_sides: 1,
        lumped_sphere: 1,
        property: 27,
      },
      notApplicable: {},
    });
    expect(measured.checks.filter(({ quantity }) => quantity.startsWith("slab model"))).toHaveLength(281);
  });

  it("lags like slabs on grade, insulated, suspended and under changing air", () => {
    // Source: tests/reference/site-heat, the trade's lag table (computed, round properties); limit 25 %.
    expectMeasured(measureSlabLag(), {
      rowsRead: 57,
      checkedByKind: {
        "on grade, uninsulated": 16,
        "on grade, insulated below": 8,
        "suspended 8 in, warm both sides": 8,
        "suspended 8 in, 35 F air below": 8,
        "on grade, still air": 8,
        "heater off at 60 F": 5,
        "warm-up morning from 45 F": 4,
      },
      notApplicable: {},
    });
  });

  it("finds the frost depth of the textbook at 0.68 m, not the 0.92 m of a companion that took erfc for the inverse of erf", () => {
    // Source: Incropera, 6th edition, example 5.6; the wrong reading is that of a public companion.
    const soil = { conductivityWPerMK: 0.52, densityKgPerM3: 2050, heatJPerKgK: 1840 };
    const spreadM = 2 * Math.sqrt(diffusivityM2PerS(soil) * 60 * 86_400);
    const ratio = (0 - -15) / (20 - -15);
    expect(spreadM * inverseErf(ratio)).toBeCloseTo(0.68, 2);
    expect(spreadM * erfc(ratio)).toBeCloseTo(0.92, 1);
    // The slab model itself: 60 days of a surface at -15 °C freeze the soil down to the same depth.
    const deep = slabGrid([{ ...soil, thicknessM: 6 }], { topCellM: 0.01, growth: 1, maxCellM: 0.01 });
    const [after] = runSlab(
      { grid: deep, startC: 20, filmWPerM2K: Number.POSITIVE_INFINITY, airC: () => -15, stepS: 3600 },
      [60 * 86_400],
    );
    const frozen = deep.depthM.filter((_, i) => (after?.cellsC[i] as number) < 0).at(-1) as number;
    expect(frozen).toBeGreaterThan(0.66);
    expect(frozen).toBeLessThan(0.69);
  });
});

describe("the step", () => {
  it("keeps every joule: what the slab gains came through its two faces", () => {
    fc.assert(
      fc.property(
        state,
        tempC,
        film,
        fc.double({ min: -50, max: 200, noNaN: true }),
        bottoms,
        fc.double({ min: 1, max: 7200, noNaN: true }),
        (cellsC, airC, filmWPerM2K, fluxWPerM2, bottom, stepS) => {
          const step = stepSlab(grid, cellsC, { airC, filmWPerM2K, fluxWPerM2 }, bottom, stepS);
          const gained = slabHeatJPerM2(grid, step.cellsC) - slabHeatJPerM2(grid, cellsC);
          const turned =
            1 + Math.abs(slabHeatJPerM2(grid, cellsC)) + Math.abs(step.topHeatJPerM2) + Math.abs(step.bottomHeatJPerM2);
          expect(Math.abs(gained - step.topHeatJPerM2 - step.bottomHeatJPerM2) / turned).toBeLessThan(1e-12);
        },
      ),
    );
  });

  it("never leaves the range of its cells and the air on both sides, at any step", () => {
    fc.assert(
      fc.property(
        state,
        tempC,
        film,
        bottoms,
        fc.double({ min: 1, max: 86_400, noNaN: true }),
        (cellsC, airC, filmWPerM2K, bottom, stepS) => {
          const { cellsC: next, surfaceC } = stepSlab(grid, cellsC, { airC, filmWPerM2K }, bottom, stepS);
          const below = bottom.kind === "insulated" ? [] : [bottom.kind === "fixed" ? bottom.tempC : bottom.airC];
          const all = [...cellsC, airC, ...below];
          for (const value of [...next, surfaceC]) {
            expect(value).toBeGreaterThanOrEqual(Math.min(...all) - 1e-9);
            expect(value).toBeLessThanOrEqual(Math.max(...all) + 1e-9);
          }
        },
      ),
    );
  });

  it("is warmer everywhere for warmer air, and for heat on the surface", () => {
    fc.assert(
      fc.property(state, tempC, film, bottoms, (cellsC, airC, filmWPerM2K, bottom) => {
        const base = stepSlab(grid, cellsC, { airC, filmWPerM2K }, bottom, 600);
        const warmer = stepSlab(grid, cellsC, { airC: airC + 2, filmWPerM2K }, bottom, 600);
        const sunny = stepSlab(grid, cellsC, { airC, filmWPerM2K, fluxWPerM2: 120 }, bottom, 600);
        expect(warmer.surfaceC).toBeGreaterThan(base.surfaceC);
        expect(sunny.surfaceC).toBeGreaterThan(base.surfaceC);
        expect(sunny.cellsC.every((value, i) => value >= (base.cellsC[i] as number))).toBe(true);
      }),
    );
  });

  it("is pure, and its fast form in place comes to the same bits", () => {
    const before = Float64Array.from({ length: grid.cells }, (_, i) => 8 + Math.sin(i));
    const kept = Float64Array.from(before);
    const step = stepSlab(
      grid,
      before,
      { airC: 17, filmWPerM2K: 6, fluxWPerM2: 30 },
      { kind: "convective", airC: 3, filmWPerM2K: 9 },
      300,
    );
    expect(before).toEqual(kept);
    const fast = Float64Array.from(before);
    advanceSlab(prepareStep(grid, 6, 9, 300), fast, 17, 30, 3);
    expect(fast).toEqual(step.cellsC);
    expect(slabSurfaceC(grid, fast, { airC: 17, filmWPerM2K: 6, fluxWPerM2: 30 })).toBe(step.surfaceC);
  });

  it("stands still in balance and settles to the steady profile of its layers", () => {
    const level = new Float64Array(grid.cells).fill(13);
    const still = stepSlab(grid, level, { airC: 13, filmWPerM2K: 8 }, { kind: "fixed", tempC: 13 }, 900);
    for (const value of still.cellsC) expect(value).toBeCloseTo(13, 10);
    const settled = stepSlab(grid, level, { airC: 21, filmWPerM2K: 8 }, { kind: "fixed", tempC: 5 }, 1e12);
    const resistance = 1 / 8 + 0.003 / 0.2 + 0.15 / 1.4 + 0.8 / 1.5;
    expect(settled.surfaceC).toBeCloseTo(21 - (16 / resistance) * (1 / 8), 5);
    expect(settled.topHeatJPerM2 / 1e12).toBeCloseTo(16 / resistance, 5);
  });

  it("takes a surface held at the air's temperature, and a bare insulated one", () => {
    const cellsC = new Float64Array(grid.cells).fill(9);
    expect(
      stepSlab(grid, cellsC, { airC: 15, filmWPerM2K: Number.POSITIVE_INFINITY }, { kind: "insulated" }, 60).surfaceC,
    ).toBe(15);
    const bare = stepSlab(grid, cellsC, { airC: 15, filmWPerM2K: 0 }, { kind: "insulated" }, 60);
    expect(bare.topHeatJPerM2).toBe(0);
    for (const value of bare.cellsC) expect(value).toBeCloseTo(9, 10);
  });
});

describe("guards", () => {
  const cellsC = new Float64Array(grid.cells).fill(9);
  it("names what is wrong", () => {
    expect(() => stepSlab(grid, cellsC, { airC: Number.NaN, filmWPerM2K: 8 }, { kind: "insulated" }, 60)).toThrow(
      /airC/,
    );
    expect(() => stepSlab(grid, cellsC, { airC: 15, filmWPerM2K: Number.NaN }, { kind: "insulated" }, 60)).toThrow(
      /filmWPerM2K/,
    );
    expect(() =>
      stepSlab(grid, cellsC, { airC: 15, filmWPerM2K: 8, fluxWPerM2: Number.NaN }, { kind: "insulated" }, 60),
    ).toThrow(/fluxWPerM2/);
    expect(() =>
      stepSlab(grid, cellsC, { airC: 15, filmWPerM2K: 8 }, { kind: "fixed", tempC: Number.NaN }, 60),
    ).toThrow(/bottom/);
    expect(() => stepSlab(grid, cellsC, { airC: 15, filmWPerM2K: 8 }, { kind: "insulated" }, 0)).toThrow(/stepS/);
    expect(() => stepSlab(grid, new Float64Array(2), { airC: 15, filmWPerM2K: 8 }, { kind: "insulated" }, 60)).toThrow(
      /cells/,
    );
    expect(() => slabGrid([])).toThrow(/layers/);
    expect(() => slabGrid([{ ...concrete, thicknessM: 0 }])).toThrow(/thicknessM/);
    expect(() => slabGrid([{ ...concrete, thicknessM: 0.1, conductivityWPerMK: Number.NaN }])).toThrow(
      /conductivityWPerMK/,
    );
    expect(() => slabGrid([{ ...concrete, thicknessM: 0.1 }], { topCellM: 0.01, growth: 0.5, maxCellM: 0.1 })).toThrow(
      /growth/,
    );
  });
});

describe("the cut", () => {
  it("fills its layers exactly, fine at the top", () => {
    const cut = slabGrid([
      { ...concrete, thicknessM: 0.2 },
      { ...MATERIALS.soil, thicknessM: 1.5 },
    ]);
    const heat = 0.2 * 2300 * 880 + 1.5 * 1800 * 1200;
    expect(cut.heatJPerM2K.reduce((sum, value) => sum + value, 0)).toBeCloseTo(heat, 3);
    expect(cut.depthM[0]).toBeLessThan(0.003);
    expect([...cut.depthM].every((depthM, i) => i === 0 || depthM > (cut.depthM[i - 1] as number))).toBe(true);
  });
});
