// Age and maturity of something that cures faster when warm: Arrhenius' law and its relatives for concrete and resin.
import { demandFinite, demandNotNegative, demandPositive, demandWithin, type ValidRange } from "#core/guard.ts";
import { kelvinFromC } from "#core/units.ts";

/** Molar gas constant, J/(mol K), exact by the definition of 2019. */
export const GAS_J_PER_MOL_K = 8.314_462_618;
/** Temperatures of curing taken, °C: from deep frost to a hot press. */
export const CURE_TEMP_RANGE_C: ValidRange = { min: -50, max: 300 };

/** A stretch of a temperature history: so many hours at one (mean) temperature, °C. */
export interface CureStretch {
  readonly hours: number;
  readonly tempC: number;
}

/**
 * How many hours at `refC` one hour at `tempC` is worth. `eaJPerMol` = activation energy (resins 40 000 to 70 000).
 * ASTM C1074 equation 2 with Q = Ea/R.
 */
export function ageFactor(tempC: number, refC: number, eaJPerMol: number): number {
  demandWithin("tempC", tempC, CURE_TEMP_RANGE_C);
  demandWithin("refC", refC, CURE_TEMP_RANGE_C);
  demandNotNegative("eaJPerMol", eaJPerMol);
  return Math.exp((-eaJPerMol / GAS_J_PER_MOL_K) * (1 / kelvinFromC(tempC) - 1 / kelvinFromC(refC)));
}

/** Equivalent age, h at `refC`, of a history. Its mean temperature would give too little: the warm hours count for more. */
export function equivalentAgeH(history: readonly CureStretch[], refC: number, eaJPerMol: number): number {
  return summed(history, (tempC) => ageFactor(tempC, refC, eaJPerMol));
}

/** Nurse-Saul maturity, °C h above the datum; stretches colder than the datum count zero. ASTM C1074 equation 1. */
export function nurseSaulCH(history: readonly CureStretch[], datumC: number): number {
  demandFinite("datumC", datumC);
  return summed(history, (tempC) => Math.max(0, tempC - datumC));
}

/** Activation energy, J/mol, of cement by Freiesleben Hansen and Pedersen 1977 (Nordisk Betong 1): rises below 20 °C. */
export function cementEaJPerMol(tempC: number): number {
  demandWithin("tempC", tempC, CURE_TEMP_RANGE_C);
  return 33_500 + 1470 * Math.max(0, 20 - tempC);
}

/** Equivalent age, h at `refC`, with that temperature-dependent energy. */
export function cementEquivalentAgeH(history: readonly CureStretch[], refC: number): number {
  return summed(history, (tempC) => ageFactor(tempC, refC, cementEaJPerMol(tempC)));
}

/** Age factor of EN 1992-1-1:2004 equation B.10; its own 273 makes it 0.9981 at 20 °C, not 1. */
export function ec2AgeFactor(tempC: number): number {
  demandWithin("tempC", tempC, CURE_TEMP_RANGE_C);
  return Math.exp(13.65 - 4000 / (273 + tempC));
}

/** Activation energy, J/mol, that makes a time `ratio` times longer at `coldC` than at `warmC` (twice per 10 K: about 50 000). */
export function eaFromTimeRatio(coldC: number, warmC: number, ratio: number): number {
  demandWithin("coldC", coldC, CURE_TEMP_RANGE_C);
  demandWithin("warmC", warmC, CURE_TEMP_RANGE_C);
  demandPositive("warmC - coldC", warmC - coldC);
  demandPositive("ratio", ratio);
  return (GAS_J_PER_MOL_K * Math.log(ratio)) / (1 / kelvinFromC(coldC) - 1 / kelvinFromC(warmC));
}

/** Activation energy, J/mol, at which a rate grows by `ratio` per 10 K right at `tempC`: the local form R T² ln(ratio)/10. */
export function eaFromLocalQ10(tempC: number, ratio: number): number {
  demandWithin("tempC", tempC, CURE_TEMP_RANGE_C);
  demandPositive("ratio", ratio);
  return (GAS_J_PER_MOL_K * kelvinFromC(tempC) ** 2 * Math.log(ratio)) / 10;
}

function summed(history: readonly CureStretch[], perHour: (tempC: number) => number): number {
  let sum = 0;
  for (const stretch of history) {
    demandNotNegative("hours", stretch.hours);
    sum += stretch.hours * perHour(stretch.tempC);
  }
  return sum;
}
