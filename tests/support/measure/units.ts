// Measures units.ts, air/combustion.ts, air/latent-heat.ts and air/room.ts against units.csv.
import {
  burntCo2KgPerKg,
  burntWaterKgPerKg,
  burntWaterKgPerKWh,
  HYDROCARBONS,
  heaterWaterKgPerH,
  type Hydrocarbon,
} from "#core/air/combustion.ts";
import { latentHeatKJPerKg, SUBLIMATION_KJ_PER_KG } from "#core/air/latent-heat.ts";
import { type Room, steadyWaterGPerKg, stepWaterGPerKg } from "#core/air/room.ts";
import * as units from "#core/units.ts";
import { type Quantity, TOLERANCES } from "../../reference/tolerances.ts";
import type { Check, Measured } from "../checks.ts";
import { numberOf, referenceRows, type Row } from "../csv.ts";

const TABLE = "units/units.csv";

/** Liquid water at 22 °C, kg/L, as the table's own rows use it. */
const WATER_KG_PER_L = 0.99777;
/** Solids by volume and thinning in the film rows. */
const FILM = { solids35: 0.35, solids65: 0.65, thinner: 0.1 };

const { propane, butane } = HYDROCARBONS;
const methane = HYDROCARBONS["natural-gas"];
const dodecane: Hydrocarbon = { ...HYDROCARBONS.kerosene, carbon: 12, hydrogen: 26 };
const kerosene19: Hydrocarbon = { ...HYDROCARBONS.kerosene, carbon: 1, hydrogen: 1.9 };

function burnt(prefix: string, fuel: Hydrocarbon): Record<string, () => number> {
  return {
    [`C-${prefix}-w`]: () => burntWaterKgPerKg(fuel),
    [`C-${prefix}-co2`]: () => burntCo2KgPerKg(fuel),
    [`C-${prefix}-wH`]: () => burntWaterKgPerKWh(fuel, "gross"),
    [`C-${prefix}-wL`]: () => burntWaterKgPerKWh(fuel, "net"),
  };
}

/** US gallons of water from 100 000 Btu of a fuel. */
function waterUsGal(fuel: Hydrocarbon, basis: "gross" | "net"): number {
  return units.usGalFromL((units.kWhFromBtu(100_000) * burntWaterKgPerKWh(fuel, basis)) / WATER_KG_PER_L);
}

const HALL: Room = { volumeM3: 300, airChangesPerH: 0.5, airDensityKgPerM3: 1.2 };
const rise = (hours: number): number => stepWaterGPerKg(HALL, 0, 0, 1, hours) / 1000;

/** How the product computes each row. */
const COMPUTED: Readonly<Record<string, () => number>> = {
  "U-gal": () => units.lFromUsGal(1),
  "U-floz": () => units.mlFromUsFlOz(1),
  "U-floz-gal": () => units.usFlOzFromMl(1000 * units.lFromUsGal(1)),
  "U-qt": () => units.lFromUsGal(1 / 4),
  "U-pt": () => 1000 * units.lFromUsGal(1 / 8),
  "U-mil": () => 1000 * units.mmFromMil(1),
  "U-ft": () => units.mFromFt(1),
  "U-ft2": () => units.m2FromFt2(1),
  "U-lb": () => units.kgFromLb(1),
  "U-gr": () => units.grPerLbFromGPerKg(1000),
  "U-spread": () => units.ft2PerUsGalFromMil(1),
  "U-spreadSI": () => 1 / units.mmFromMil(units.milFromMm(0.001)),
  "U-m2L": () => 1 / units.lPerM2FromFt2PerUsGal(1),
  "U-wft": () => units.milFromFt2PerUsGal(100),
  "U-wft-floz": () => units.milFromMm(units.mlFromUsFlOz(16) / 1000 / units.m2FromFt2(25)),
  "U-wftmm": () => units.mmFromMil(units.milFromMm(1 / 1.5)),
  "U-dft": () => units.milFromFt2PerUsGal(units.ft2PerUsGalFromMil(8)) * FILM.solids35,
  "U-cov65": () => units.ft2PerUsGalFromMil(5 / FILM.solids65),
  "U-cov65SI": () => FILM.solids65 / units.mmFromMil(units.milFromMm(0.125)),
  "U-wft-thin": () => units.milFromMm((units.mmFromMil(2.8) * (1 + FILM.thinner)) / FILM.solids35),
  "U-lbgal": () => (1000 * units.kgFromLb(1)) / units.lFromUsGal(1),
  "T-F": () => units.cFromF(73),
  "T-d5F": () => units.kFromFDifference(5),
  "T-d3C": () => units.fDifferenceFromK(3),
  "T-d18F": () => units.kFromFDifference(18),
  "T-40": () => units.fFromC(-40),
  "P-inHg": () => units.paFromInHg(1),
  "P-mmHg": () => units.paFromInHg(1 / 25.4),
  "P-psi": () => (units.kgFromLb(1) * 9.80665) / units.mFromIn(1) ** 2,
  "E-btu": () => 3.6e6 * units.kWhFromBtu(1),
  "E-kwh": () => units.btuFromKWh(1),
  "E-u": () => (1000 * units.kWFromBtuPerH(1)) / units.m2FromFt2(1) / units.kFromFDifference(1),
  "E-k": () => ((1000 * units.kWFromBtuPerH(1)) / units.m2FromFt2(1) / units.kFromFDifference(1)) * units.mFromIn(1),
  "E-cfm": () => (1000 * units.m3FromFt3(1)) / 60,
  "E-pintday": () => (units.lFromUsGal(70 / 8) * WATER_KG_PER_L) / 24,
  ...burnt("c3", propane),
  ...burnt("c1", methane),
  ...burnt("c4", butane),
  ...burnt("k", dodecane),
  ...burnt("k2", kerosene19),
  ...burnt("jet", HYDROCARBONS.kerosene),
  "C-100k-p": () => waterUsGal(propane, "net"),
  "C-100k-p-H": () => waterUsGal(propane, "gross"),
  "C-100k-n": () => waterUsGal(methane, "net"),
  "C-100k-n-H": () => waterUsGal(methane, "gross"),
  "C-gal-p": () => units.lbFromKg(units.kgFromLb(4.24) * burntWaterKgPerKg(propane)),
  "L-hfg-0": () => latentHeatKJPerKg(0),
  "L-hfg-10": () => latentHeatKJPerKg(10),
  "L-hfg-20": () => latentHeatKJPerKg(20),
  "L-hfg-25": () => latentHeatKJPerKg(25),
  "L-hfg-30": () => latentHeatKJPerKg(30),
  "L-hfg-40": () => latentHeatKJPerKg(40),
  "L-hfg-100": () => latentHeatKJPerKg(100),
  "L-ice": () => SUBLIMATION_KJ_PER_KG,
  "MB-ss": () => steadyWaterGPerKg(HALL, 0, 1) / 1000,
  "MB-t0.5": () => rise(0.5),
  "MB-t1": () => rise(1),
  "MB-t2": () => rise(2),
  "MB-t4": () => rise(4),
  "MB-decay": () => stepWaterGPerKg(HALL, 1, 0, 0, 3),
  "MB-heater": () => heaterWaterKgPerH("propane", 20, false, "gross"),
  "MB-heater-dW": () =>
    steadyWaterGPerKg(
      { volumeM3: 1000, airChangesPerH: 1, airDensityKgPerM3: 1.2 },
      0,
      heaterWaterKgPerH("propane", 20, false, "gross"),
    ) / 1000,
  "I-fpC": () => units.cFromF(53),
};

/** Why some rows are read but not computed, by the beginning of their id. */
export const NOT_APPLICABLE: Readonly<Record<string, string>> = {
  "P-perm": "vapour permeance is not computed: slab moisture comes from tests",
  "I-": "solvent limits are not computed: the product's safety sheet, local code and licensed practice rule",
  "CO-": "carbon monoxide limits are not computed: local code and the heater's manual rule",
};

/** What a row belongs to: the letters before the first dash. */
function kindOf(row: Row): string {
  return (row.id as string).split("-")[0] as string;
}

function quantityOf(row: Row): Quantity {
  const kind = kindOf(row);
  if (kind === "L") return row.id === "L-hfg-100" ? "latent heat at 100 °C" : "latent heat, 0 to 40 °C";
  if (kind === "C") return "water and CO2 of burning";
  return kind === "MB" ? "moisture of a room" : "unit conversion";
}

export function measureUnits(): Measured {
  const rows = referenceRows(TABLE);
  const notApplicable: Record<string, { rows: number; reason: string }> = {};
  const checks: Check[] = [];
  for (const row of rows) {
    const compute = COMPUTED[row.id as string];
    if (compute === undefined) {
      const prefix = Object.keys(NOT_APPLICABLE).find((start) => row.id?.startsWith(start));
      if (prefix === undefined) throw new RangeError(`${row.id} is neither computed nor named`);
      notApplicable[prefix] = {
        rows: (notApplicable[prefix]?.rows ?? 0) + 1,
        reason: NOT_APPLICABLE[prefix] as string,
      };
      continue;
    }
    const fromMemory = row.status === "from memory";
    const quantity = quantityOf(row);
    const want = numberOf(row, "value");
    // Half a unit of the last printed digit, where the print is shorter than the number.
    const rounding = (0.5 * 10 ** -((row.value as string).split(".")[1] ?? "").length) / Math.abs(want);
    const allowed = /^(?!.*e).*\./.test(row.value as string)
      ? { allowed: Math.max(rounding, TOLERANCES[quantity].max) }
      : {};
    const check: Check = { row: row.id as string, kind: kindOf(row), quantity, got: compute(), want, ...allowed };
    checks.push(fromMemory ? { ...check, fromMemory } : check);
  }
  return { table: TABLE, rowsRead: rows.length, checks, notApplicable };
}
