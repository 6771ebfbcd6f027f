// Measures the dew point against the reports of three New York airports (a year, hourly).
import { dewPointC } from "#core/air/dew-point.ts";
import type { Measured } from "../checks.ts";
import { numberOf, referenceRows } from "../csv.ts";

const TABLE = "weather/weather-nyc-asos-2013.csv";

/** Rows whose maker mixed several reports of an hour (column `consistent` 0) are counted, not measured. */
export function measureNewYork(): Measured {
  const rows = referenceRows(TABLE);
  const consistent = rows.filter((row) => row.consistent === "1");
  const checks = consistent.map((row) => ({
    row: `${row.station} ${row.time_utc}`,
    kind: "consistent report",
    quantity: "dew point, New York weather" as const,
    got: dewPointC(numberOf(row, "t_C"), numberOf(row, "rh_pct")),
    want: numberOf(row, "td_C"),
  }));
  const reason = "the maker took the largest of several reports of the hour, column by column";
  return {
    table: TABLE,
    rowsRead: rows.length,
    checks,
    notApplicable: { inconsistent: { rows: rows.length - consistent.length, reason } },
  };
}
