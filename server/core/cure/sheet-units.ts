// The units of the paper: what was typed beside what is reckoned with.
import {
  cFromF,
  fDifferenceFromK,
  fFromC,
  ft2FromM2,
  gPerKgFromGrPerLb,
  grPerLbFromGPerKg,
  kFromFDifference,
  kgFromLb,
  lbFromKg,
  lFromUsGal,
  lPerM2FromFt2PerUsGal,
  m2FromFt2,
  milFromMm,
  mmFromMil,
  usGalFromL,
} from "#core/units.ts";

/** Units that a data sheet prints. `dF` and `dC` are differences: 5 °F of margin is 2.78 K, never -15 °C. */
export const TYPED_UNITS = [
  "C",
  "F",
  "dC",
  "dF",
  "h",
  "min",
  "d",
  "%",
  "g/kg",
  "gr/lb",
  "lb/1000ft2.24h",
  "g/m2.24h",
  "L/m2",
  "m2/L",
  "ft2/gal",
  "mil",
  "um",
  "L",
  "gal",
  "kg",
  "lb",
  "kg/L",
  "lb/gal",
  "m2/h",
  "ft2/h",
] as const;
export type TypedUnit = (typeof TYPED_UNITS)[number];

/** Units in which a figure may be printed; the first is the one that is reckoned with. */
export type FieldUnits = readonly [inside: TypedUnit, ...others: TypedUnit[]];

interface Conversion {
  /** To the first unit of the field, and back. */
  readonly from: (typed: number) => number;
  readonly to: (inside: number) => number;
}

/** Vapour emission, g per m² per 24 h, from lb per 1000 ft² per 24 h: 1 lb is 4.882 g/m². */
export function gPerM2FromMverLb(emissionLb: number): number {
  return (kgFromLb(emissionLb) * 1000) / m2FromFt2(1000);
}

export function mverLbFromGPerM2(emissionGPerM2: number): number {
  return lbFromKg(emissionGPerM2 / 1000) * m2FromFt2(1000);
}

const KG_PER_L_OF_LB_PER_GAL = kgFromLb(1) / lFromUsGal(1);

/** Units that are not the first of their field. Coverage is the inverse of use, so it turns over both ways. */
const CONVERSIONS: Partial<Record<TypedUnit, Conversion>> = {
  F: { from: cFromF, to: fFromC },
  dF: { from: kFromFDifference, to: fDifferenceFromK },
  d: { from: (days) => days * 24, to: (hours) => hours / 24 },
  "gr/lb": { from: gPerKgFromGrPerLb, to: grPerLbFromGPerKg },
  "g/m2.24h": { from: mverLbFromGPerM2, to: gPerM2FromMverLb },
  "m2/L": { from: (coverage) => 1 / coverage, to: (use) => 1 / use },
  "ft2/gal": { from: lPerM2FromFt2PerUsGal, to: lPerM2FromFt2PerUsGal },
  gal: { from: lFromUsGal, to: usGalFromL },
  lb: { from: kgFromLb, to: lbFromKg },
  "lb/gal": { from: (lb) => lb * KG_PER_L_OF_LB_PER_GAL, to: (kg) => kg / KG_PER_L_OF_LB_PER_GAL },
  "ft2/h": { from: m2FromFt2, to: ft2FromM2 },
};
const MINUTES: Conversion = { from: (minutes) => minutes / 60, to: (hours) => hours * 60 };
const HOURS_OF_MINUTES: Conversion = { from: (hours) => hours * 60, to: (minutes) => minutes / 60 };
/** A wet film of 1 mm is 1 L/m². */
const WET_MIL: Conversion = { from: mmFromMil, to: milFromMm };
const DRY_MIL: Conversion = { from: (mil) => mmFromMil(mil) * 1000, to: (um) => milFromMm(um / 1000) };
const WET_UM: Conversion = { from: (um) => um / 1000, to: (use) => use * 1000 };
const SAME: Conversion = { from: (value) => value, to: (value) => value };

function conversionOf(units: FieldUnits, unit: TypedUnit): Conversion {
  const [inside] = units;
  if (unit === inside) return SAME;
  if (unit === "mil") return inside === "um" ? DRY_MIL : WET_MIL;
  if (unit === "um") return WET_UM;
  if (unit === "min") return MINUTES;
  if (unit === "h") return HOURS_OF_MINUTES;
  return CONVERSIONS[unit] ?? SAME;
}

/** What is reckoned with, in the first unit of the field. */
export function insideFromTyped(value: number, unit: TypedUnit, units: FieldUnits): number {
  return conversionOf(units, unit).from(value);
}

/** The other way: for the screen, and for the question what else a number could have meant. */
export function typedFromInside(inside: number, unit: TypedUnit, units: FieldUnits): number {
  return conversionOf(units, unit).to(inside);
}

const TEMPERATURE: FieldUnits = ["C", "F"];
const HOURS: FieldUnits = ["h", "min", "d"];
const VOLUME: FieldUnits = ["L", "gal"];
const DENSITY: FieldUnits = ["kg/L", "lb/gal"];

const FIELDS: readonly (readonly [path: RegExp, units: FieldUnits])[] = [
  [/^limits\.(slabC|airC|resinC)\.[01]$/, TEMPERATURE],
  [/^(cure|hard)\.\d{1,2}\.slabC$/, TEMPERATURE],
  [/^cure\.\d{1,2}\.(recoatFromH|recoatUntilH|dewSafeH|footH|trafficH)$/, HOURS],
  [/^hard\.\d{1,2}\.hardH$/, HOURS],
  [/^limits\.(rhPct\.[01]|slabRhMaxPct)$/, ["%"]],
  [/^limits\.waterGPerKg\.[01]$/, ["g/kg", "gr/lb"]],
  [/^limits\.dewMarginK$/, ["dC", "dF"]],
  [/^limits\.slabMverMaxLb$/, ["lb/1000ft2.24h", "g/m2.24h"]],
  [/^material\.wetLPerM2$/, ["L/m2", "m2/L", "ft2/gal", "mil", "um"]],
  [/^material\.dryFilmUm$/, ["um", "mil"]],
  [/^material\.(solidsPct|texturePct|porosityPct|wastePct)$/, ["%"]],
  [/^material\.(kitL|mix\.parts\.\d\.kitL)$/, VOLUME],
  [/^material\.(densityKgPerL|mix\.parts\.\d\.densityKgPerL)$/, DENSITY],
  [/^material\.(mixMin|restMin|floorMin)$/, ["min", "h"]],
  [/^material\.potLife\.\d{1,2}\.resinC$/, TEMPERATURE],
  [/^material\.potLife\.\d{1,2}\.min$/, ["min", "h"]],
  [/^material\.potLife\.\d{1,2}\.massKg$/, ["kg", "lb"]],
  [/^material\.potLife\.\d{1,2}\.volumeL$/, VOLUME],
  [/^material\.placeM2PerH$/, ["m2/h", "ft2/h"]],
];

/** Units in which the figure at a path may stand on the paper; null where there is no such figure. */
export function unitsOfField(path: string): FieldUnits | null {
  return FIELDS.find(([of]) => of.test(path))?.[1] ?? null;
}

/** The value that stands at a path (`cure.0.recoatFromH`); undefined where there is none. */
export function valueAt(of: unknown, path: string): unknown {
  let at: unknown = of;
  for (const step of path.split(".")) {
    if (typeof at !== "object" || at === null) return undefined;
    at = (at as Readonly<Record<string, unknown>>)[step];
  }
  return at;
}
