// What can look odd about a typed sheet, and where.

/** What is doubted; the screen says for each what to look at on the paper. */
export const WARNING_KINDS = [
  "max-below-min",
  "columns-exchanged",
  "longer-when-hotter",
  "rows-upside-down",
  "two-rows-one-temperature",
  "hours-not-positive",
  "slipped-zero",
  "minutes-as-hours",
  "days-as-hours",
  "dew-safe-estimated",
  "traffic-before-foot",
  "min-above-max",
  "margin-outside",
  "margin-unit",
  "fahrenheit-as-celsius",
  "celsius-as-fahrenheit",
  "humidity-as-share",
  "humidity-slipped",
  "grains-as-grams",
  "emission-unit",
  "no-recoat-minimum",
  "no-recoat-maximum",
  "maximum-on-open",
  "no-hours-to-hard",
  "starter-numbers",
] as const;
export type WarningKind = (typeof WARNING_KINDS)[number];

export interface SheetWarning {
  /** Path of the field: `cure.0.recoatUntilH`, `limits.dewMarginK`, `cure`. */
  readonly field: string;
  readonly kind: WarningKind;
  /** What the number would be if the doubt is right, or our estimate; in the unit of the field. */
  readonly meant?: number;
}
