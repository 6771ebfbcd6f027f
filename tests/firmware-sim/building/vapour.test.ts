// The simulator's own vapour arithmetic against published tables, and the node's short form against it.
import { describe, expect, it } from "vitest";
import {
  dewPointOverWaterC,
  pressureAtPa,
  saturationOverWaterPa,
  saturationPa,
  vapourPaOf,
  waterKgPerKg,
} from "../../../firmware-sim/building/vapour.ts";
import { nodeDewPointC } from "../../../firmware-sim/node/dew.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";

// tests/reference/psychrometrics: ASHRAE Handbook Fundamentals 2017 chapter 1 and older editions, published rows.
const published = referenceRows("psychrometrics/psychrometrics.csv").filter(
  (row) => row.kind === "published" && row.rh_pct === "100",
);

describe("saturation pressure", () => {
  it("has published rows to meet", () => expect(published.length).toBeGreaterThanOrEqual(8));
  it.each(published.map((row) => [numberOf(row, "t_C"), numberOf(row, "p_ws_Pa")] as const))(
    "at %d C is within 0.1 % of %d Pa",
    (tempC, pa) => {
      expect(Math.abs(saturationPa(tempC) / pa - 1)).toBeLessThan(1e-3);
    },
  );
});

describe("dew point", () => {
  it("comes back from its own pressure from -30 to 45 C", () => {
    for (let tempC = -30; tempC <= 45; tempC += 2.5)
      expect(dewPointOverWaterC(saturationOverWaterPa(tempC))).toBeCloseTo(tempC, 6);
  });
  it("of the node's short form stays within 0.12 K from -10 to 40 C", () => {
    for (let airC = -10; airC <= 40; airC += 5) {
      for (const rhPct of [25, 45, 65, 85, 99]) {
        const exactC = dewPointOverWaterC((rhPct / 100) * saturationOverWaterPa(airC));
        expect(Math.abs(nodeDewPointC(airC, rhPct) - exactC)).toBeLessThan(0.12);
      }
    }
  });
});

it("water in air and its pressure are inverses", () => {
  expect(vapourPaOf(waterKgPerKg(812, 98_500), 98_500)).toBeCloseTo(812, 9);
});

it("pressure at 1000 m is that of the standard atmosphere", () => {
  // ISA: 898.75 hPa at 1000 m (from memory).
  expect(pressureAtPa(1000)).toBeCloseTo(89_875, -1);
});
