// Recomputes magnus-error.csv: how far each short form is from the reference, on a grid of whole degrees and 5 % steps.
import { dewPointC } from "#core/air/dew-point.ts";
import { OVER_WATER, saturationVapourPa } from "#core/air/vapour.ts";
import type { Check, Measured } from "../checks.ts";
import { numberOf, referenceRows, type Row } from "../csv.ts";
import { referenceDewPointC, referenceWaterPa } from "../reference-vapour.ts";

const TABLE = "psychrometrics/magnus-error.csv";

interface Form {
  readonly saturationPa: (tempC: number) => number;
  readonly dewPoint: (airC: number, rhPct: number) => number;
}

/** The set of a row, by its printed coefficients; the product's own set runs through the product's code. */
function formOf(row: Row): Form {
  const [e0Pa, a, bC] = ((row.set as string).split(" ").at(-1) as string).split(",").map(Number) as [
    number,
    number,
    number,
  ];
  if (e0Pa === OVER_WATER.e0Pa && a === OVER_WATER.a && bC === OVER_WATER.bC) {
    return { saturationPa: saturationVapourPa, dewPoint: dewPointC };
  }
  return {
    saturationPa: (tempC) => e0Pa * Math.exp((a * tempC) / (bC + tempC)),
    dewPoint: (airC, rhPct) => {
      const log = Math.log(rhPct / 100) + (a * airC) / (bC + airC);
      return (bC * log) / (a - log);
    },
  };
}

function spanOf(text: string): number[] {
  return text.split("..").map(Number);
}

export interface FormErrors {
  readonly saturationMaxPct: number;
  readonly saturationMeanPct: number;
  readonly dewMaxK: number;
  readonly dewMeanK: number;
}

export function formErrors(form: Form, temps: readonly number[], humidities: readonly number[]): FormErrors {
  const saturation = temps.map((tempC) => Math.abs(form.saturationPa(tempC) / referenceWaterPa(tempC) - 1) * 100);
  const dew = temps.flatMap((airC) =>
    humidities.map((rhPct) =>
      Math.abs(form.dewPoint(airC, rhPct) - referenceDewPointC((rhPct / 100) * referenceWaterPa(airC))),
    ),
  );
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    saturationMaxPct: Math.max(...saturation),
    saturationMeanPct: mean(saturation),
    dewMaxK: Math.max(...dew),
    dewMeanK: mean(dew),
  };
}

export function measureMagnus(): Measured {
  const rows = referenceRows(TABLE);
  const checks = rows.flatMap((row): Check[] => {
    const [coldC, hotC] = spanOf(row.t_range_C as string) as [number, number];
    const [dryPct, dampPct] = spanOf(row.rh_range_pct as string) as [number, number];
    const temps = Array.from({ length: hotC - coldC + 1 }, (_, i) => coldC + i);
    const humidities = Array.from({ length: (dampPct - dryPct) / 5 + 1 }, (_, i) => dryPct + 5 * i);
    const errors = formErrors(formOf(row), temps, humidities);
    const id = `${row.set} at ${row.t_range_C} °C`;
    const kind = "set and range";
    return [
      {
        row: `${id} | es max`,
        kind,
        quantity: "error of a short form, %",
        got: errors.saturationMaxPct,
        want: numberOf(row, "es_err_max_pct"),
      },
      {
        row: `${id} | es mean`,
        kind,
        quantity: "error of a short form, %",
        got: errors.saturationMeanPct,
        want: numberOf(row, "es_err_mean_pct"),
      },
      {
        row: `${id} | td max`,
        kind,
        quantity: "error of a short form, K",
        got: errors.dewMaxK,
        want: numberOf(row, "td_err_max_K"),
      },
      {
        row: `${id} | td mean`,
        kind,
        quantity: "error of a short form, K",
        got: errors.dewMeanK,
        want: numberOf(row, "td_err_mean_K"),
      },
    ];
  });
  return { table: TABLE, rowsRead: rows.length, checks, notApplicable: {} };
}
