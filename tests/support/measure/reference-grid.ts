// The dew point against the reference formulations (IAPWS, Murphy and Koop) on a grid of 1620 states.
import { dewPointC } from "#core/air/dew-point.ts";
import type { Check, Measured } from "../checks.ts";
import { referenceDewPointC, referenceWaterPa } from "../reference-vapour.ts";

export function measureReferenceGrid(): Measured {
  const checks: Check[] = [];
  for (let airC = -30; airC <= 50; airC++) {
    for (let rhPct = 5; rhPct <= 100; rhPct += 5) {
      const usual = airC >= 5 && airC <= 40 && rhPct >= 30;
      checks.push({
        row: `${airC} °C ${rhPct} %`,
        kind: "state of a grid",
        quantity: usual ? "dew point, 5 to 40 °C, 30 % and more" : "dew point, -30 to 50 °C",
        got: dewPointC(airC, rhPct),
        want: referenceDewPointC((rhPct / 100) * referenceWaterPa(airC)),
      });
    }
  }
  return { table: "IAPWS and Murphy-Koop, run here", rowsRead: checks.length, checks, notApplicable: {} };
}
