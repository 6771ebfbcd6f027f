// Measures the margin against condensation-cases.csv and the dew point against the exact column of a printed chart.
import { dewPointC } from "#core/air/dew-point.ts";
import { marginK } from "#core/air/margin.ts";
import { rhPctFromVapour, vapourPa } from "#core/air/vapour.ts";
import { cFromF, fFromC } from "#core/units.ts";
import type { Check, Measured } from "../checks.ts";
import { numberOf, referenceRows } from "../csv.ts";

const CASES = "psychrometrics/condensation-cases.csv";
const CHART = "psychrometrics/dewpoint-chart-f.csv";

export function measureMargin(): Measured {
  const rows = referenceRows(CASES);
  const checks = rows.flatMap((row, at): Check[] => {
    const airC = numberOf(row, "t_air_C");
    const rhPct = numberOf(row, "rh_air_pct");
    const slabC = numberOf(row, "t_surface_C");
    const dewC = dewPointC(airC, rhPct);
    const id = `line ${at + 2}`;
    const kind = "gate case";
    return [
      {
        row: `${id} | t_dew_C`,
        kind,
        quantity: "dew point, 5 to 40 °C, 30 % and more",
        got: dewC,
        want: numberOf(row, "t_dew_C"),
      },
      { row: `${id} | margin_K`, kind, quantity: "margin", got: marginK(slabC, dewC), want: numberOf(row, "margin_K") },
      {
        row: `${id} | rh_at_surface_pct`,
        kind,
        quantity: "humidity at the surface",
        got: rhPctFromVapour(slabC, vapourPa(airC, rhPct)),
        want: numberOf(row, "rh_at_surface_pct"),
      },
    ];
  });
  return { table: CASES, rowsRead: rows.length, checks, notApplicable: {} };
}

/** The chart's own whole degrees are up to 1.66 °F off; its exact column is what is measured, in K. */
export function measureChart(): Measured {
  const rows = referenceRows(CHART);
  const checks = rows.map((row): Check => {
    const dewF = fFromC(dewPointC(cFromF(numberOf(row, "t_F")), numberOf(row, "rh_pct")));
    const id = `${row.t_F} °F ${row.rh_pct} %`;
    return {
      row: id,
      kind: "cell of the chart",
      quantity: "dew point, 5 to 40 °C, 30 % and more",
      got: cFromF(dewF),
      want: cFromF(numberOf(row, "exact_td_F")),
    };
  });
  return { table: CHART, rowsRead: rows.length, checks, notApplicable: {} };
}
