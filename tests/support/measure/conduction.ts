// Measures against conduction.csv: every row by its closed form, and every temperature in a slab by the slab model too.
import { contactC, dampingDepthM, diffusivityM2PerS, effusivityJPerM2KSqrtS, MATERIALS } from "#core/slab/materials.ts";
import type { Quantity } from "../../reference/tolerances.ts";
import type { Check, Measured } from "../checks.ts";
import {
  erf,
  inverseErf,
  planeWallC,
  planeWallFactor,
  planeWallRoot,
  surfaceFilmC,
  surfaceFluxC,
  surfaceStepC,
  type Wall,
} from "../closed-forms.ts";
import { numberOf, referenceRows, type Row } from "../csv.ts";
import { type Inputs, inputsOf, materialOf } from "./conduction-inputs.ts";
import { solverChecks } from "./conduction-solver.ts";

const TABLE = "conduction/conduction.csv";

/** Wall of the textbook example, whose printed diffusivity is rounded, or of a slab insulated below. */
function wallOf(i: Inputs): Wall {
  return {
    thicknessM: i.L as number,
    filmWPerM2K: i.h as number,
    conductivityWPerMK: i.k as number,
    diffusivityM2PerS: i.alpha ?? diffusivityM2PerS(materialOf(i)),
    startC: i.Ti as number,
    airC: i.Tinf as number,
  };
}

function textbookWall(quantity: string, i: Inputs): number {
  const wall = wallOf(i);
  const biot = (wall.filmWPerM2K * wall.thicknessM) / wall.conductivityWPerMK;
  switch (quantity) {
    case "Bi":
      return biot;
    case "Fo":
      return (wall.diffusivityM2PerS * (i.t as number)) / wall.thicknessM ** 2;
    case "T_insulated_face":
      return planeWallC(wall, 0, i.t as number);
    case "T_convecting_face":
      return planeWallC(wall, 1, i.t as number);
    case "q_at_surface":
      return wall.filmWPerM2K * (planeWallC(wall, 1, i.t as number) - wall.airC);
    default:
      throw new RangeError(quantity);
  }
}

/** Depth at which a half space passes `T` after a surface step. */
function stepDepthM(i: Inputs): number {
  const diffusivity = i.alpha ?? diffusivityM2PerS(materialOf(i));
  const ratio = ((i.T as number) - (i.Ts as number)) / ((i.Ti as number) - (i.Ts as number));
  return 2 * inverseErf(ratio) * Math.sqrt(diffusivity * (i.t as number));
}

function surfaceStep(quantity: string, i: Inputs): number {
  if (quantity === "depth") return stepDepthM(i);
  const diffusivity = diffusivityM2PerS(materialOf(i));
  if (quantity === "T") return surfaceStepC(i.Ti as number, i.Ts as number, i.x as number, diffusivity, i.t as number);
  return ((i.k as number) * ((i.Ti as number) - (i.Ts as number))) / Math.sqrt(Math.PI * diffusivity * (i.t as number));
}

function periodic(quantity: string, i: Inputs): number {
  const depthM = dampingDepthM(materialOf(i), i.period as number);
  if (quantity.startsWith("damping_depth")) return depthM;
  const share = (i.x as number) / depthM;
  return quantity === "amplitude_ratio" ? Math.exp(-share) : (share * (i.period as number)) / (2 * Math.PI) / 3600;
}

/** A sphere whose diameter gives it the stated time constant; time until it shows `T`. */
function sphereS(i: Inputs): number {
  return (i.tau as number) * Math.log(((i.Tinf as number) - (i.Ti as number)) / ((i.Tinf as number) - (i.T as number)));
}

const PROPERTY_ROWS: Readonly<Record<string, keyof typeof MATERIALS>> = {
  "P-INC": "concreteStoneMix",
  "P-10456-1800": "concrete1800",
  "P-10456-2000": "concrete2000",
  "P-10456-2200": "concrete2200",
  "P-10456-2400": "concrete2400",
  "P-10456-R1": "concreteSteel1Pct",
  "P-10456-R2": "concreteSteel2Pct",
  "P-epoxy": "epoxy",
  "P-steel-CIBSE": "steel",
};

function property(row: Row): number {
  const name = PROPERTY_ROWS[(row.id as string).replace(/-(k|rho|c)$/, "")];
  if (name === undefined) throw new RangeError(`${row.id} is not in MATERIALS`);
  const material = MATERIALS[name];
  if (row.quantity === "k") return material.conductivityWPerMK;
  return row.quantity === "rho" ? material.densityKgPerM3 : material.heatJPerKgK;
}

function closedForm(row: Row): number {
  const i = inputsOf(row);
  const quantity = row.quantity as string;
  switch (row.case) {
    case "erf":
      return erf(i.x as number);
    case "plane_wall_one_term":
    case "plane_wall_one_term_exact": {
      const root = planeWallRoot(i.Bi as number);
      return quantity === "zeta1" ? root : planeWallFactor(root);
    }
    case "plane_wall":
      return textbookWall(quantity, i);
    case "semi_infinite_surface_step":
      return surfaceStep(quantity, i);
    case "semi_infinite_constant_flux":
      return surfaceFluxC(
        i.Ti as number,
        i.q as number,
        i.k as number,
        i.x as number,
        i.alpha as number,
        i.t as number,
      );
    case "semi_infinite_convection":
      return surfaceFilmC({ ...wallOf(i) }, i.x as number, i.t as number);
    case "slab_insulated_below":
      return planeWallC(wallOf(i), quantity === "T_top" ? 1 : 0, i.t as number);
    case "periodic_penetration":
      return periodic(quantity, i);
    case "two_semi_infinite_contact":
      return contactC(i.e_a as number, i.Ta as number, i.e_b as number, i.Tb as number);
    case "effusivity":
      return effusivityJPerM2KSqrtS(materialOf(i));
    case "diffusivity":
      return diffusivityM2PerS(materialOf(i));
    case "lumped_plate_two_sides":
      return ((i.rho as number) * (i.c as number) * (i.thickness as number)) / (2 * (i.h as number));
    case "lumped_sphere":
      return sphereS(i);
    case "property":
      return property(row);
    default:
      throw new RangeError(`unknown case ${row.case}`);
  }
}

/** A value from memory that was verified by computation counts like any other. */
export function isFromMemory(row: Row): boolean {
  return /from memory/i.test(row.status as string) && !/verified/.test(row.status as string);
}

/** Half a unit of the last digit that was printed. */
function roundingOf(printed: string): number {
  const [mantissa, exponent] = printed.toLowerCase().split("e") as [string, string?];
  return 0.5 * 10 ** (Number(exponent ?? 0) - (mantissa.split(".")[1] ?? "").length);
}

/** Quantity and allowance of a row: its own absolute `tol` and the rounding of its print, as a share of the value. */
function allowedOf(row: Row): { quantity: Quantity; allowed?: number } {
  if (row.case === "property") return { quantity: "property of a material" };
  const want = Math.abs(numberOf(row, "expected"));
  const tol = numberOf(row, "tol");
  const computed = row.status?.startsWith("computed") || row.case === "erf";
  if (!computed) return { quantity: "textbook value, share of its own tolerance", allowed: 1 };
  return { quantity: "closed form", allowed: tol / Math.min(1, want) + roundingOf(row.expected as string) / want };
}

export function measureConduction(): Measured {
  const rows = referenceRows(TABLE);
  const checks = rows.flatMap((row): Check[] => {
    const got = closedForm(row);
    const want = numberOf(row, "expected");
    const { quantity, allowed } = allowedOf(row);
    // The rows with a tolerance of their own stand in one table: as a share of what each allows.
    const scale = quantity === "textbook value, share of its own tolerance" ? numberOf(row, "tol") : 1;
    const check: Check = {
      row: row.id as string,
      kind: row.case as string,
      quantity,
      got: got / scale,
      want: want / scale,
    };
    return [
      { ...check, ...(allowed === undefined ? {} : { allowed }), ...(isFromMemory(row) ? { fromMemory: true } : {}) },
    ];
  });
  return { table: TABLE, rowsRead: rows.length, checks: [...checks, ...solverChecks(rows)], notApplicable: {} };
}
