// Measures cure/arrhenius.ts against equivalent-age.csv: every kind of row that the product's laws can compute.
import {
  ageFactor,
  cementEaJPerMol,
  cementEquivalentAgeH,
  type CureStretch,
  eaFromLocalQ10,
  eaFromTimeRatio,
  ec2AgeFactor,
  equivalentAgeH,
  GAS_J_PER_MOL_K,
  nurseSaulCH,
} from "#core/cure/arrhenius.ts";
import type { Check, Measured } from "../checks.ts";
import { has, numberOf, referenceRows, type Row } from "../csv.ts";
import { integrate } from "../ode.ts";

const TABLE = "equivalent-age/equivalent-age.csv";

/** The history that the worked example prints in its source column: hours x mean °C. */
const WORKED_EXAMPLE: readonly CureStretch[] = [
  { hours: 2, tempC: 16 },
  { hours: 2, tempC: 20 },
  { hours: 4, tempC: 26 },
  { hours: 4, tempC: 30 },
  { hours: 12, tempC: 24 },
  { hours: 24, tempC: 15 },
  { hours: 24, tempC: 10 },
];
const FROST_EXAMPLE: readonly CureStretch[] = [
  { hours: 10, tempC: 5 },
  { hours: 10, tempC: -3 },
  { hours: 10, tempC: 12 },
];

/** 30 to 5 °C in a straight line, in short stretches at their middle temperature. */
export function rampHistory(hours: number, stretches = 20_000): CureStretch[] {
  return Array.from({ length: stretches }, (_, i) => ({
    hours: hours / stretches,
    tempC: 30 - (25 * (i + 0.5)) / stretches,
  }));
}

/** Least squares of ln(time) on 1/T over the rows whose id starts with the table's name. */
interface Fit {
  readonly eaJPerMol: number;
  readonly hoursAt: (tempC: number) => number;
  readonly rms: number;
}

function fitOf(rows: readonly Row[], table: string): Fit {
  const points = rows
    .filter((row) => new RegExp(`^${table}-\\d+$`).test(row.id as string))
    .map((row) => ({ x: 1 / (numberOf(row, "t_C") + 273.15), y: Math.log(numberOf(row, "expected")) }));
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length;
  const slope =
    points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0) /
    points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  const residuals = points.map(({ x, y }) => y - meanY - slope * (x - meanX));
  const eaJPerMol = slope * GAS_J_PER_MOL_K;
  const meanC = 1 / meanX - 273.15;
  return {
    eaJPerMol,
    // The fitted time at the mean of 1/T, aged to another temperature by the product's own factor.
    hoursAt: (tempC) => Math.exp(meanY) / ageFactor(tempC, meanC, eaJPerMol),
    rms: Math.sqrt(residuals.reduce((sum, residual) => sum + residual ** 2, 0) / residuals.length),
  };
}

/** Autocatalytic cure of Kamal's form; the rates of the synthetic floor epoxy are aged by the product's factor. */
function kamalFloor(tempC: (atH: number) => number, endH: number): number {
  const rate = (atH: number, a: number): number => {
    const k1 = 0.004 * ageFactor(tempC(atH), 23, 102_508);
    const k2 = 0.3 * ageFactor(tempC(atH), 23, 58_576);
    return (k1 + k2 * a) * (1 - a) ** 2;
  };
  return integrate(rate, 0, endH, 0.01);
}

/** Hot-cure rate of Lee, Loos and Springer, 1/min: prefactors brought to 20 °C, then aged by the product's factor. */
function leeLoosSpringer(tempC: number, conversion: number): number {
  const k = (prefactor: number, eaJPerMol: number): number =>
    prefactor * Math.exp(-eaJPerMol / (GAS_J_PER_MOL_K * 293.15)) * ageFactor(tempC, 20, eaJPerMol);
  if (conversion > 0.3) return k(1.96e5, 56_600) * (1 - conversion);
  return (k(2.101e9, 80_700) + k(-2.014e9, 77_800) * conversion) * (1 - conversion) * (0.47 - conversion);
}

/** Why some kinds are read but not computed. */
export const NOT_APPLICABLE: Readonly<Record<string, string>> = {
  cure_time_h: "input: printed time tables, over which the fit rows are computed",
  relative_cure_time: "input: printed relative times, over which a fit row is computed",
  "pot_life_h (printed)": "input: the printed pot lives that the doubling rule starts from",
  literature_activation_energy:
    "facts from abstracts: the product uses the sheet's times, and 70 kJ/mol below a single row",
  dibenedetto_Tg: "glass transition is not modelled: the sheet's own rows and a touch test rule",
  "vitrification_conversion (Tg=Tcure)": "vitrification is not modelled: colder than the coldest row earns nothing",
  "flory_gel_conversion stoichiometric diepoxide+diamine": "gelation is not modelled: pot life comes from the sheet",
};

function computed(row: Row, rows: readonly Row[]): number {
  const id = row.id as string;
  const kind = row.kind as string;
  const cell = (column: string): number => numberOf(row, column);
  const last = (): string => id.split("-").at(-1) as string;
  switch (kind) {
    case "age_conversion_factor":
    case "age_conversion_factor_Q":
      return ageFactor(cell("t_C"), cell("t_ref_C"), cell("ea_J_mol"));
    case "fhp_activation_energy":
      return cementEaJPerMol(cell("t_C"));
    case "fhp_age_factor":
      return ageFactor(cell("t_C"), cell("t_ref_C"), cementEaJPerMol(cell("t_C")));
    case "ec2_temperature_adjusted_age_factor":
      return ec2AgeFactor(cell("t_C"));
    case "nurse_saul_TTF":
      return nurseSaulCH(id.startsWith("WE2") ? FROST_EXAMPLE : WORKED_EXAMPLE, cell("datum_C"));
    case "equivalent_age":
      return equivalentAgeH(WORKED_EXAMPLE, cell("t_ref_C"), cell("ea_J_mol"));
    case "equivalent_age_fhp":
      return cementEquivalentAgeH(WORKED_EXAMPLE, cell("t_ref_C"));
    case "equivalent_age_linear_ramp":
      return equivalentAgeH(rampHistory(cell("dt_h")), cell("t_ref_C"), cell("ea_J_mol"));
    case "equivalent_age_at_mean_temperature":
      return equivalentAgeH([{ hours: cell("dt_h"), tempC: cell("t_C") }], cell("t_ref_C"), cell("ea_J_mol"));
    case "ea_for_doubling_per_10K":
      return eaFromTimeRatio(cell("t_C"), cell("t_ref_C"), 2);
    case "ea_for_Q10_2_at_T":
      return eaFromLocalQ10(cell("t_C"), 2);
    case "time_ratio_13C_over_23C":
    case "time_ratio_55F_over_73F":
      return 1 / ageFactor(cell("t_C"), cell("t_ref_C"), cell("ea_J_mol"));
    case "arrhenius_fit_ea":
      return fitOf(rows, id.replace(/-fitEa$/, "")).eaJPerMol;
    case "arrhenius_fit_time_at_23C":
      return fitOf(rows, id.replace(/-fit23$/, "")).hoursAt(cell("t_C"));
    case "arrhenius_fit_rms_lnresidual":
      return fitOf(rows, id.replace(/-fitrms$/, "")).rms;
    case "pot_life_h":
      // The guide's 4 h at 21.11 °C, doubled per 10 K down and halved per 10 K up.
      return (
        4 /
        ageFactor(cell("t_C"), 21.11, eaFromTimeRatio(Math.min(21.11, cell("t_C")), Math.max(21.11, cell("t_C")), 2))
      );
    case "kamal_conversion":
      return kamalFloor(() => cell("t_C"), cell("dt_h"));
    case "kamal_conversion_cyclic T=15+8cos(2pi t/24)":
      return kamalFloor((atH) => 15 + 8 * Math.cos((2 * Math.PI * atH) / 24), cell("dt_h"));
    case "kamal m=1 n=1 k1=0.02/h k2=0.5/h":
      return integrate((_, a) => (0.02 + 0.5 * a) * (1 - a), 0, cell("dt_h"));
    case "lee_loos_springer_rate":
      return leeLoosSpringer(cell("t_C"), Number(last()));
    default: {
      const order = /^nth_order_conversion n=([\d.]+) k=0.25\/h$/.exec(kind)?.[1];
      if (order === undefined) throw new RangeError(`unknown kind ${kind}`);
      return integrate((_, a) => 0.25 * (1 - a) ** Number(order), 0, cell("dt_h"));
    }
  }
}

/** The kind that a row is counted under: printed pot lives are inputs, derived ones are computed. */
function kindOf(row: Row): string {
  return row.kind === "pot_life_h" && row.status !== "derived" ? "pot_life_h (printed)" : (row.kind as string);
}

export function measureEquivalentAge(): Measured {
  const rows = referenceRows(TABLE);
  const notApplicable: Record<string, { rows: number; reason: string }> = {};
  const checks: Check[] = [];
  for (const row of rows) {
    const kind = kindOf(row);
    const reason = NOT_APPLICABLE[kind];
    if (reason !== undefined) {
      notApplicable[kind] = { rows: (notApplicable[kind]?.rows ?? 0) + 1, reason };
      continue;
    }
    const numeric = /^(nth_order|kamal)/.test(kind);
    checks.push({
      row: row.id as string,
      kind,
      quantity: numeric
        ? "cure kinetics, integrated"
        : kind === "lee_loos_springer_rate"
          ? "cure kinetics, hot rate"
          : "age and maturity",
      got: computed(row, rows),
      want: numberOf(row, "expected"),
      // The row's own relative tolerance, and the rounding of its ten printed digits.
      ...(has(row, "tol_rel") ? { allowed: numberOf(row, "tol_rel") + 5e-10 } : { allowed: 1e-9 }),
    });
  }
  return { table: TABLE, rowsRead: rows.length, checks, notApplicable };
}
