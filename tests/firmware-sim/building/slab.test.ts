// The simulated slab against closed solutions and against the trade's table of slab lag.
import { describe, expect, it } from "vitest";
import { concrete, type Layer, Slab, type SlabRoom, type SlabSpec, soil } from "../../../firmware-sim/building/slab.ts";
import { referenceRows } from "../../support/csv.ts";

const STILL: Omit<SlabRoom, "airC" | "radiantC" | "outdoorC"> = {
  convectionWPerM2K: 3,
  radiationWPerM2K: 5,
  gainWPerM2: 0,
};
const room = (airC: number, filmWPerM2K = 8, outdoorC = airC): SlabRoom => ({
  ...STILL,
  airC,
  radiantC: airC,
  outdoorC,
  convectionWPerM2K: filmWPerM2K - 5,
  radiationWPerM2K: 5,
});

function surfaceAfter(spec: SlabSpec, startC: number, at: SlabRoom, hours: number): number {
  const slab = new Slab(spec, startC);
  let surfaceC = startC;
  for (let i = 0; i < hours * 60; i++) surfaceC = slab.step(60, at).surfaceC;
  return surfaceC;
}

describe("slab", () => {
  // tests/reference/conduction: series solution of a slab insulated below with convection on top (Incropera eq. 5.42).
  const rows = referenceRows("conduction/conduction.csv").filter(
    (row) => row.case === "slab_insulated_below" && row.quantity === "T_top",
  );

  it("has rows of the closed solution to meet", () => expect(rows.length).toBeGreaterThan(10));

  it.each(rows.map((row) => [row.id, row] as const))("%s: surface within 0.12 K of the series solution", (_, row) => {
    const given = JSON.parse(row.inputs_json ?? "") as {
      k: number;
      rho: number;
      c: number;
      L: number;
      h: number;
      Ti: number;
      Tinf: number;
      t: number;
    };
    const layer: Layer = {
      thicknessM: given.L,
      conductivityWPerMK: given.k,
      densityKgPerM3: given.rho,
      heatJPerKgK: given.c,
      cells: 12,
    };
    const spec: SlabSpec = { layers: [layer], below: { kind: "none" }, edgeWPerM2K: 0 };
    const surfaceC = surfaceAfter(spec, given.Ti, room(given.Tinf, given.h), given.t / 3600);
    expect(Math.abs(surfaceC - Number(row.expected))).toBeLessThan(0.12);
  });

  it("comes to rest where resistances in series put it", () => {
    const spec: SlabSpec = {
      layers: [concrete(0.15, 5), soil(1.35, 8)],
      below: { kind: "ground", groundC: 8 },
      edgeWPerM2K: 0,
    };
    const resistances = { film: 1 / 8, concrete: 0.15 / 1.6, soil: 1.35 / 1.5 };
    const sum = resistances.film + resistances.concrete + resistances.soil;
    expect(surfaceAfter(spec, 8, room(21), 24 * 60)).toBeCloseTo(21 - (13 * resistances.film) / sum, 3);
  });

  it("gives back in fluxes exactly what it holds", () => {
    const slab = new Slab(
      { layers: [concrete(0.13, 6)], below: { kind: "outdoors", filmWPerM2K: 7 }, edgeWPerM2K: 1.3 },
      6,
    );
    const before = slab.heldJPerM2();
    let inJPerM2 = 0;
    for (let i = 0; i < 600; i++) {
      const at = { ...room(11 + Math.sin(i / 40), 8, 1), gainWPerM2: i % 200 === 0 ? 90 : 0 };
      const flux = slab.step(60, at);
      inJPerM2 +=
        60 * (flux.fromAirWPerM2 + flux.fromWallsWPerM2 + flux.fromBelowWPerM2 + flux.fromEdgeWPerM2 + at.gainWPerM2);
    }
    expect(slab.heldJPerM2() - before).toBeCloseTo(inJPerM2, 2);
  });
});

// Slab lag: 150 mm on ground at 40 F, air taken to 70 F and held. Computed for the trade by one-dimensional conduction with
// k 1.6 W/mK and film 8 W/m2K, round properties, stated there as good to 25 %; ground depth is ours. Temperatures in F.
describe("slab lag within 25 % of the rise that the trade's table gives", () => {
  const toC = (f: number) => (f - 32) / 1.8;
  const hours = [1, 2, 4, 8, 12, 24, 48, 96];
  const ground = { kind: "ground", groundC: toC(40) } as const;
  const cases: readonly [string, SlabSpec, SlabRoom, readonly number[]][] = [
    [
      "on grade, uninsulated",
      { layers: [concrete(0.15, 5), soil(6, 24)], below: ground, edgeWPerM2K: 0 },
      room(toC(70)),
      [47, 49, 52, 55, 57, 60, 62.5, 65],
    ],
    [
      "on grade, insulated below",
      { layers: [concrete(0.15, 5)], below: { kind: "none" }, edgeWPerM2K: 0 },
      room(toC(70)),
      [47, 49, 52, 57, 60, 64.5, 67, 68],
    ],
    [
      "suspended, warm both sides",
      { layers: [concrete(0.2, 8)], below: { kind: "outdoors", filmWPerM2K: 8 }, edgeWPerM2K: 0 },
      room(toC(70)),
      [47, 50, 54, 59, 63, 68, 70, 70],
    ],
    [
      "suspended, 35 F below",
      { layers: [concrete(0.2, 8)], below: { kind: "outdoors", filmWPerM2K: 8 }, edgeWPerM2K: 0 },
      room(toC(70), 8, toC(35)),
      [47, 49, 52, 54, 56, 58, 58, 58],
    ],
    [
      "on grade, still air",
      { layers: [concrete(0.15, 5), soil(6, 24)], below: ground, edgeWPerM2K: 0 },
      room(toC(70), 5.001),
      [45, 46.5, 49, 51, 53, 56, 59, 62],
    ],
  ];
  for (const [name, spec, at, surfacesF] of cases) {
    it(name, () => {
      for (const [i, hour] of hours.entries()) {
        const riseK = (surfacesF[i] as number) / 1.8 - 40 / 1.8;
        const found = surfaceAfter(spec, toC(40), at, hour) - toC(40);
        expect(
          Math.abs(found - riseK) / riseK,
          `${name} after ${hour} h: ${found.toFixed(2)} K for ${riseK.toFixed(2)} K`,
        ).toBeLessThan(0.25);
      }
    });
  }
});
