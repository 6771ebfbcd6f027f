// Conversions between what a person types or reads and the SI units inside: each conversion exists once, here.
// A temperature and a temperature difference are two things: only the first one knows the 32 of Fahrenheit.
// Source of the factors: NIST SP 811 and NIST Handbook 44 appendix C, exact by definition unless said otherwise.

/** Kelvin of 0 °C. */
export const ZERO_C_IN_K = 273.15;
/** One foot in m, exact. */
const FT_M = 0.3048;
/** One inch in m, exact. */
const IN_M = 0.0254;
/** One avoirdupois pound in kg, exact. */
const LB_KG = 0.453_592_37;
/** One US gallon in L: 231 cubic inches, exact. */
const US_GAL_L = 231 * IN_M ** 3 * 1000;
/** One US fluid ounce in mL: a gallon / 128, exact. */
const US_FL_OZ_ML = (US_GAL_L * 1000) / 128;
/** One square foot in m², exact. */
const FT2_M2 = FT_M * FT_M;
/** One mil (0.001 inch) in mm, exact. */
const MIL_MM = 0.0254;
/** One Btu (International Table) in J: 1 Btu/lb °F = 4186.8 J/kg K, exact. */
const BTU_J = (4186.8 * LB_KG) / 1.8;
/** One pound-force per square inch in MPa: a pound of mass at standard gravity, 9.80665 m/s², exact. */
const MPA_PER_PSI = (LB_KG * 9.806_65) / (IN_M * IN_M) / 1e6;
/** Grains in a pound, exact. */
const GR_PER_LB = 7000;
/** One inch of mercury at 0 °C in Pa; SP 811 rounds it to 3386.389. */
const IN_HG_PA = 25.4 * 133.322_387_415;

/** Temperature, °C, from °F. */
export function cFromF(tempF: number): number {
  return (tempF - 32) / 1.8;
}

/** Temperature, °F, from °C. */
export function fFromC(tempC: number): number {
  return tempC * 1.8 + 32;
}

/** Temperature difference, K, from °F: 5 °F is 2.778 K, neither 3 K nor -15 °C. Never adds 32. */
export function kFromFDifference(differenceF: number): number {
  return differenceF / 1.8;
}

/** Temperature difference, °F, from K. Never adds 32. */
export function fDifferenceFromK(differenceK: number): number {
  return differenceK * 1.8;
}

/** Absolute temperature, K, from °C. */
export function kelvinFromC(tempC: number): number {
  return tempC + ZERO_C_IN_K;
}

/** Length, m, from feet. */
export function mFromFt(lengthFt: number): number {
  return lengthFt * FT_M;
}

/** Length, feet, from m. */
export function ftFromM(lengthM: number): number {
  return lengthM / FT_M;
}

/** Length, m, from inches. */
export function mFromIn(lengthIn: number): number {
  return lengthIn * IN_M;
}

/** Area, m², from square feet. */
export function m2FromFt2(areaFt2: number): number {
  return areaFt2 * FT2_M2;
}

/** Area, square feet, from m². */
export function ft2FromM2(areaM2: number): number {
  return areaM2 / FT2_M2;
}

/** Volume, m³, from cubic feet. */
export function m3FromFt3(volumeFt3: number): number {
  return volumeFt3 * FT_M ** 3;
}

/** Volume, L, from US gallons. */
export function lFromUsGal(volumeUsGal: number): number {
  return volumeUsGal * US_GAL_L;
}

/** Volume, US gallons, from L. */
export function usGalFromL(volumeL: number): number {
  return volumeL / US_GAL_L;
}

/** Volume, mL, from US fluid ounces. */
export function mlFromUsFlOz(volumeUsFlOz: number): number {
  return volumeUsFlOz * US_FL_OZ_ML;
}

/** Volume, US fluid ounces, from mL. */
export function usFlOzFromMl(volumeMl: number): number {
  return volumeMl / US_FL_OZ_ML;
}

/** Film thickness, mm, from mil. */
export function mmFromMil(thicknessMil: number): number {
  return thicknessMil * MIL_MM;
}

/** Film thickness, mil, from mm. */
export function milFromMm(thicknessMm: number): number {
  return thicknessMm / MIL_MM;
}

/** Coverage, square feet per US gallon, of a wet film of so many mil: 1604.17 / mil. */
export function ft2PerUsGalFromMil(thicknessMil: number): number {
  return US_GAL_L / mmFromMil(thicknessMil) / FT2_M2;
}

/** Wet film, mil, of so many square feet per US gallon: 1604.17 / coverage. */
export function milFromFt2PerUsGal(coverageFt2PerUsGal: number): number {
  return milFromMm(lPerM2FromFt2PerUsGal(coverageFt2PerUsGal));
}

/** Use of material, L/m², from a coverage in square feet per US gallon. 1 L/m² is a wet film of 1 mm. */
export function lPerM2FromFt2PerUsGal(coverageFt2PerUsGal: number): number {
  return US_GAL_L / (coverageFt2PerUsGal * FT2_M2);
}

/** Mass, kg, from pounds. */
export function kgFromLb(massLb: number): number {
  return massLb * LB_KG;
}

/** Mass, pounds, from kg. */
export function lbFromKg(massKg: number): number {
  return massKg / LB_KG;
}

/** Energy, kWh, from Btu (International Table). */
export function kWhFromBtu(energyBtu: number): number {
  return (energyBtu * BTU_J) / 3_600_000;
}

/** Energy, Btu (International Table), from kWh. */
export function btuFromKWh(energyKWh: number): number {
  return (energyKWh * 3_600_000) / BTU_J;
}

/** Power, kW, from Btu per hour. */
export function kWFromBtuPerH(powerBtuPerH: number): number {
  return kWhFromBtu(powerBtuPerH);
}

/** Power, Btu per hour, from kW. */
export function btuPerHFromKW(powerKW: number): number {
  return btuFromKWh(powerKW);
}

/** Humidity ratio, g per kg of dry air, from grains per pound. */
export function gPerKgFromGrPerLb(waterGrPerLb: number): number {
  return (waterGrPerLb * 1000) / GR_PER_LB;
}

/** Humidity ratio, grains per pound of dry air, from g per kg. */
export function grPerLbFromGPerKg(waterGPerKg: number): number {
  return (waterGPerKg * GR_PER_LB) / 1000;
}

/** Pull-off strength, MPa, from pounds per square inch. */
export function mpaFromPsi(strengthPsi: number): number {
  return strengthPsi * MPA_PER_PSI;
}

/** Pull-off strength, pounds per square inch, from MPa. */
export function psiFromMpa(strengthMpa: number): number {
  return strengthMpa / MPA_PER_PSI;
}

/** Pressure, Pa, from inches of mercury (0 °C). */
export function paFromInHg(pressureInHg: number): number {
  return pressureInHg * IN_HG_PA;
}

/** Pressure, inches of mercury (0 °C), from Pa. */
export function inHgFromPa(pressurePa: number): number {
  return pressurePa / IN_HG_PA;
}
