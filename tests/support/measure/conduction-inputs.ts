// The inputs of a row of conduction.csv, and the material that they describe.
import type { Material } from "#core/slab/materials.ts";
import type { Row } from "../csv.ts";

export type Inputs = Readonly<Record<string, number>>;

export function inputsOf(row: Row): Inputs {
  return JSON.parse(row.inputs_json as string) as Inputs;
}

export function materialOf(inputs: Inputs): Material {
  return {
    conductivityWPerMK: inputs.k as number,
    densityKgPerM3: inputs.rho as number,
    heatJPerKgK: inputs.c as number,
  };
}
