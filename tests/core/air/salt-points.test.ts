// Humidity over saturated salts against a read table and a handbook's short form (tests/reference/salt-points).
import { describe, expect, it } from "vitest";
import { type Salt, saltPointPct } from "#core/air/salt-points.ts";
import { numberOf, referenceRows } from "../../support/csv.ts";

describe("the fixed points", () => {
  const rows = referenceRows("salt-points/salt-points.csv");
  it("stand in the reference", () => {
    expect(rows).toHaveLength(17);
  });
  it.each(rows)("$salt at $temp_c °C by $source", (row) => {
    const pct = saltPointPct(row["salt"] as Salt, numberOf(row, "temp_c"));
    expect(Math.abs(pct - numberOf(row, "rh_pct"))).toBeLessThanOrEqual(numberOf(row, "tolerance_pct"));
  });
  it("run straight between the steps and end with them", () => {
    expect(saltPointPct("sodium-chloride", 22.5)).toBeCloseTo((75.47 + 75.29) / 2, 9);
    expect(saltPointPct("magnesium-chloride", 50)).toBeCloseTo(30.54, 9);
    for (const tempC of [-0.1, 50.1, Number.NaN])
      expect(() => saltPointPct("sodium-chloride", tempC)).toThrow(RangeError);
  });
});
