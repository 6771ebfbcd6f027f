// Doubts about a typed sheet, each with its field: what a slip of the pen looks like. Warnings only: sheet-check.ts is what stops.
// Numbers here are wide bounds of what such products print (common practice and memory of the trade, no source): never limits.
import { DEW_SAFE_FACTOR } from "#core/cure/curve.ts";
import { MARGIN_LIMIT_RANGE_K } from "#core/cure/sheet-check.ts";
import { cureSlips } from "#core/cure/sheet-slips.ts";
import type { SheetWarning } from "#core/cure/sheet-warning.ts";
import { isStillStarter } from "#core/cure/sheet-starters.ts";
import type { Range, Sheet } from "#core/cure/sheet.ts";

/** Hotter than this no floor is coated, °C: the number is °F. */
const HOTTEST_C = 45;
/** Colder than this only few products are laid; 10 to 20 °C read as °F come out here. */
const COLDEST_C = -5;
const F_OF = (celsius: number) => (celsius - 32) / 1.8;

const RANGES = ["slabC", "airC", "rhPct", "waterGPerKg", "resinC"] as const;
const TEMPERATURES: ReadonlySet<string> = new Set(["slabC", "airC", "resinC"]);

function temperatureDoubt(field: string, valueC: number): SheetWarning[] {
  if (valueC > HOTTEST_C) return [{ field, kind: "fahrenheit-as-celsius", meant: F_OF(valueC) }];
  if (valueC < COLDEST_C) return [{ field, kind: "celsius-as-fahrenheit", meant: valueC * 1.8 + 32 }];
  return [];
}

function rangeWarnings(name: (typeof RANGES)[number], range: Range): SheetWarning[] {
  const [min, max] = range;
  const found: SheetWarning[] = [];
  if (min !== null && max !== null && min > max) found.push({ field: `limits.${name}.1`, kind: "min-above-max" });
  for (const [side, value] of range.entries()) {
    const field = `limits.${name}.${side}`;
    if (value === null) continue;
    if (TEMPERATURES.has(name)) found.push(...temperatureDoubt(field, value));
    if (name === "rhPct" && value > 0 && value <= 1)
      found.push({ field, kind: "humidity-as-share", meant: value * 100 });
    else if (name === "rhPct" && (value > 100 || (side === 1 && value < 30)))
      found.push({ field, kind: "humidity-slipped", meant: value > 100 ? value / 10 : value * 10 });
    if (name === "waterGPerKg" && value > 25)
      found.push({ field, kind: "grains-as-grams", meant: (value * 1000) / 7000 });
  }
  return found;
}

/** A margin outside 1 to 8 K; 50 °F is a slipped zero, -15 °C had 32 taken off, 5 °C is where most print 5 °F. */
function marginWarnings(marginK: number): SheetWarning[] {
  const field = "limits.dewMarginK";
  const { min, max } = MARGIN_LIMIT_RANGE_K;
  const plausible = (value: number) => value >= min && value <= max;
  if (!plausible(marginK)) {
    if (plausible(marginK / 10)) return [{ field, kind: "slipped-zero", meant: marginK / 10 }];
    const as = (marginK * 1.8 + 32) / 1.8;
    return [{ field, kind: "margin-outside", ...(marginK < 0 && plausible(as) ? { meant: as } : {}) }];
  }
  return marginK > 4.9 && marginK < 5.1 ? [{ field, kind: "margin-unit", meant: marginK / 1.8 }] : [];
}

/** No dew-safe hours: the judge takes a multiple of the recoat minimum, and says so. */
function estimates(sheet: Sheet): SheetWarning[] {
  return sheet.cure.flatMap(({ recoatFromH, dewSafeH }, index) =>
    dewSafeH === null && recoatFromH !== null
      ? [{ field: `cure.${index}.dewSafeH`, kind: "dew-safe-estimated" as const, meant: recoatFromH * DEW_SAFE_FACTOR }]
      : [],
  );
}

function windowWarnings(sheet: Sheet): SheetWarning[] {
  const printed = sheet.cure.some(({ recoatUntilH }) => recoatUntilH !== null);
  const found: SheetWarning[] = [];
  if (!sheet.cure.some(({ recoatFromH }) => recoatFromH !== null))
    found.push({ field: "cure", kind: "no-recoat-minimum" });
  if (sheet.window === "closes" && !printed) found.push({ field: "window", kind: "no-recoat-maximum" });
  if (sheet.window === "open" && printed) found.push({ field: "window", kind: "maximum-on-open" });
  return found;
}

/** Every doubt about a sheet as it is typed, those of one field together; empty when nothing looks odd. */
export function sheetWarnings(sheet: Sheet): SheetWarning[] {
  const { limits } = sheet;
  const filler = sheet.kind === "filler";
  const found: SheetWarning[] = [
    ...RANGES.flatMap((name) => rangeWarnings(name, limits[name])),
    ...(filler ? [] : marginWarnings(limits.dewMarginK)),
    ...cureSlips(sheet),
    ...(filler ? [] : [...estimates(sheet), ...windowWarnings(sheet)]),
  ];
  if (limits.slabMverMaxLb !== null && limits.slabMverMaxLb > 30)
    found.push({ field: "limits.slabMverMaxLb", kind: "emission-unit", meant: limits.slabMverMaxLb / 4.882 });
  if (limits.slabRhMaxPct !== null && limits.slabRhMaxPct <= 1)
    found.push({ field: "limits.slabRhMaxPct", kind: "humidity-as-share", meant: limits.slabRhMaxPct * 100 });
  if (filler && (sheet.hard ?? []).length === 0) found.push({ field: "hard", kind: "no-hours-to-hard" });
  if (isStillStarter(sheet)) found.push({ field: filler ? "hard" : "cure", kind: "starter-numbers" });
  return found;
}
