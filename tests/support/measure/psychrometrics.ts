// Measures air/ against psychrometrics.csv: every filled cell of every row that holds a value we compute.
import { dewPointC, frostPointC, frostPointFromDewPointC, rhPctFromDewPoint } from "#core/air/dew-point.ts";
import {
  OVER_WATER,
  rhPctFromVapour,
  saturationIcePa,
  saturationTempC,
  saturationVapourPa,
  vapourPa,
} from "#core/air/vapour.ts";
import { SEA_LEVEL_PA, waterGPerKgFromVapour, waterGPerM3 } from "#core/air/water.ts";
import { wetBulbC } from "#core/air/wet-bulb.ts";
import type { Quantity } from "../../reference/tolerances.ts";
import type { Check, Measured } from "../checks.ts";
import { has, numberOf, referenceRows, type Row } from "../csv.ts";

const TABLE = "psychrometrics/psychrometrics.csv";

/** Columns with values to check; the others say what the row is. */
export const VALUE_COLUMNS = [
  "p_ws_Pa",
  "t_dew_C",
  "w_kgkg",
  "t_wb_C",
  "e_Pa",
  "t_frost_C",
  "abs_hum_gm3",
  "w_real_sat_kgkg",
  "psychrolib_p_ws_Pa",
  "psychrolib_t_dew_C",
  "psychrolib_w_kgkg",
  "psychrolib_t_wb_C",
] as const;
type Column = (typeof VALUE_COLUMNS)[number];

interface State {
  readonly airC: number;
  /** Relative humidity over water, whatever the row's own basis. */
  readonly rhPct: number;
  readonly vapour: number;
  readonly pressurePa: number;
}

function stateOf(row: Row): State {
  const airC = numberOf(row, "t_C");
  const rowRh = numberOf(row, "rh_pct");
  const vapour = row.rh_basis === "ice" ? (rowRh / 100) * saturationIcePa(airC) : vapourPa(airC, rowRh);
  const rhPct = row.rh_basis === "ice" ? rhPctFromVapour(airC, vapour) : rowRh;
  return { airC, rhPct, vapour, pressurePa: has(row, "p_Pa") ? numberOf(row, "p_Pa") : SEA_LEVEL_PA };
}

/** What we make of a column. The second opinion counts over ice below 0 °C: its dew point is our frost point. */
function computed(column: Column, state: State, row: Row): number {
  const { airC, rhPct, vapour, pressurePa } = state;
  switch (column) {
    case "p_ws_Pa":
      return row.rh_basis === "ice" ? saturationIcePa(airC) : saturationVapourPa(airC);
    case "psychrolib_p_ws_Pa":
      return airC < 0 ? saturationIcePa(airC) : saturationVapourPa(airC);
    case "e_Pa":
      return vapour;
    case "t_dew_C":
      return row.rh_basis === "ice" ? saturationTempC(OVER_WATER, vapour) : dewPointC(airC, rhPct);
    case "t_frost_C":
      return frostPointC(airC, rhPct);
    case "psychrolib_t_dew_C":
      return frostPointFromDewPointC(dewPointC(airC, rhPct));
    case "w_kgkg":
    case "psychrolib_w_kgkg":
      return waterGPerKgFromVapour(vapour, pressurePa) / 1000;
    case "w_real_sat_kgkg":
      return (
        waterGPerKgFromVapour(row.rh_basis === "ice" ? saturationIcePa(airC) : saturationVapourPa(airC), pressurePa) /
        1000
      );
    case "t_wb_C":
    case "psychrolib_t_wb_C":
      return wetBulbC(airC, rhPct, pressurePa);
    case "abs_hum_gm3":
      return waterGPerM3(airC, rhPct);
  }
}

function quantityOf(column: Column, row: Row): Quantity {
  switch (column) {
    case "p_ws_Pa":
      return row.rh_basis === "ice" ? "saturation over ice" : "saturation over water";
    case "e_Pa":
    case "abs_hum_gm3":
      return "vapour in air";
    case "t_dew_C":
      return numberOf(row, "t_C") >= 5 &&
        numberOf(row, "t_C") <= 40 &&
        numberOf(row, "rh_pct") >= 30 &&
        row.rh_basis === "water"
        ? "dew point, 5 to 40 °C, 30 % and more"
        : "dew point, -30 to 50 °C";
    case "t_frost_C":
      return "frost point";
    case "w_kgkg":
      return row.kind === "computed" ? "humidity ratio" : "humidity ratio, published (real gas)";
    case "w_real_sat_kgkg":
      return "humidity ratio, published (real gas)";
    case "t_wb_C":
      return "wet bulb";
    case "psychrolib_p_ws_Pa":
      return "second opinion: saturation";
    case "psychrolib_t_dew_C":
      return "second opinion: dew or frost point";
    case "psychrolib_w_kgkg":
      return "second opinion: humidity ratio";
    case "psychrolib_t_wb_C":
      return "second opinion: wet bulb";
  }
}

/** The published rows that carry a tolerance of their own, or give the vapour pressure instead of the humidity. */
function special(row: Row, id: string): Check[] | null {
  const kind = row.kind as string;
  const note = row.tol_note as string;
  if (note.startsWith("chart-read example")) {
    const { airC, rhPct, vapour, pressurePa } = stateOf(row);
    return [
      {
        row: `${id} | t_dew_C`,
        kind,
        quantity: "chart-read example, K",
        got: dewPointC(airC, rhPct),
        want: 7,
        allowed: 0.5,
      },
      {
        row: `${id} | t_wb_C`,
        kind,
        quantity: "chart-read example, K",
        got: wetBulbC(airC, rhPct, pressurePa),
        want: 20,
        allowed: 0.5,
      },
      {
        row: `${id} | w_kgkg`,
        kind,
        quantity: "chart-read example, kg/kg",
        got: waterGPerKgFromVapour(vapour, pressurePa) / 1000,
        want: 0.0065,
        allowed: 1e-4,
      },
    ];
  }
  if (note.startsWith("w rel 1e-6 from the given vapour pressure")) {
    const got = waterGPerKgFromVapour(numberOf(row, "p_ws_Pa"), numberOf(row, "p_Pa")) / 1000;
    return [
      ...plain(row, id).filter((check) => !check.row.endsWith("| w_kgkg")),
      {
        row: `${id} | w_kgkg`,
        kind,
        quantity: "humidity ratio from a given vapour pressure",
        got,
        want: numberOf(row, "w_kgkg"),
        allowed: 1e-6,
      },
    ];
  }
  if (note.startsWith("w rel 3e-4")) {
    const got = waterGPerKgFromVapour(numberOf(row, "e_Pa"), numberOf(row, "p_Pa")) / 1000;
    return [
      ...plain(row, id).filter((check) => !check.row.endsWith("| w_kgkg")),
      {
        row: `${id} | w_kgkg`,
        kind,
        quantity: "humidity ratio from a given vapour pressure",
        got,
        want: numberOf(row, "w_kgkg"),
        allowed: 3e-4,
      },
    ];
  }
  if (note.startsWith("rh abs 0.02")) {
    const got = rhPctFromDewPoint(numberOf(row, "t_C"), numberOf(row, "t_dew_C"));
    return [
      {
        row: `${id} | t_dew_C`,
        kind,
        quantity: "humidity from dew point, %",
        got,
        want: numberOf(row, "rh_pct"),
        allowed: 0.02,
      },
    ];
  }
  if (note.startsWith("abs 0.02 K")) return plain(row, id).map((check) => ({ ...check, allowed: 0.02 }));
  return null;
}

function plain(row: Row, id: string): Check[] {
  const state = stateOf(row);
  return VALUE_COLUMNS.filter((column) => has(row, column)).map((column) => ({
    row: `${id} | ${column}`,
    kind: row.kind as string,
    quantity: quantityOf(column, row),
    got: computed(column, state, row),
    want: numberOf(row, column),
  }));
}

export function measurePsychrometrics(): Measured & { readonly cells: number } {
  const rows = referenceRows(TABLE);
  const checks = rows.flatMap((row, at) => {
    const id = `line ${at + 2}: ${row.t_C} °C ${row.rh_pct} % (${row.rh_basis})`;
    return special(row, id) ?? plain(row, id);
  });
  const cells = rows.reduce((sum, row) => sum + VALUE_COLUMNS.filter((column) => has(row, column)).length, 0);
  return { table: TABLE, rowsRead: rows.length, checks, notApplicable: {}, cells };
}
