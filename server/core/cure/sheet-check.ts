// Nonsense in a typed sheet, found before anybody pours on it.
import type { CureRow, HardRow, Milestone, Range, Sheet } from "#core/cure/sheet.ts";

/** Margin limits outside this are a slipped digit: 1 to 8 K (trade rule, common practice, no source). */
export const MARGIN_LIMIT_RANGE_K = { min: 1, max: 8 } as const;

export interface SheetDoubt {
  readonly field: string;
  readonly reason: string;
}

const MILESTONES: readonly Milestone[] = ["recoatFromH", "recoatUntilH", "dewSafeH", "footH", "trafficH"];
const RANGES = ["slabC", "airC", "rhPct", "waterGPerKg", "resinC"] as const;

function rangeDoubts(field: string, range: Range): SheetDoubt[] {
  const [min, max] = range;
  return min !== null && max !== null && min > max ? [{ field, reason: "minimum above maximum" }] : [];
}

function rowDoubts(row: CureRow, at: string): SheetDoubt[] {
  const doubts: SheetDoubt[] = [];
  for (const milestone of MILESTONES) {
    const hours = row[milestone];
    if (hours !== null && !(hours > 0)) doubts.push({ field: `${at}.${milestone}`, reason: "hours must be positive" });
  }
  if (row.recoatFromH !== null && row.recoatUntilH !== null && row.recoatUntilH < row.recoatFromH) {
    doubts.push({ field: `${at}.recoatUntilH`, reason: "maximum below minimum" });
  }
  return doubts;
}

function heatDoubts(sorted: readonly CureRow[]): SheetDoubt[] {
  const doubts: SheetDoubt[] = [];
  for (const milestone of MILESTONES) {
    const rows = sorted.filter((row) => row[milestone] !== null);
    for (const [index, row] of rows.entries()) {
      const colder = rows[index - 1];
      if (colder !== undefined && (row[milestone] as number) > (colder[milestone] as number)) {
        doubts.push({ field: `cure.${milestone}`, reason: "longer when hotter" });
      }
    }
  }
  return doubts;
}

/** The same of a crack filler, which has nothing but its hours to hard. */
function fillerDoubts(rows: readonly HardRow[]): SheetDoubt[] {
  if (rows.length === 0) return [{ field: "hard", reason: "no hours to hard" }];
  const sorted = [...rows].sort((a, b) => a.slabC - b.slabC);
  return sorted.flatMap(({ slabC, hardH }, index) => {
    const colder = sorted[index - 1];
    const doubts: SheetDoubt[] = [];
    if (!(hardH > 0)) doubts.push({ field: `hard[${index}].hardH`, reason: "hours must be positive" });
    if (colder?.slabC === slabC) doubts.push({ field: `hard[${index}].slabC`, reason: "two rows at one temperature" });
    if (colder !== undefined && hardH > colder.hardH)
      doubts.push({ field: "hard.hardH", reason: "longer when hotter" });
    return doubts;
  });
}

/** Everything that makes a sheet unfit to judge by; empty when it can be used. */
export function sheetDoubts(sheet: Sheet): SheetDoubt[] {
  if (sheet.kind === "filler") return fillerDoubts(sheet.hard ?? []);
  const { limits, cure } = sheet;
  const doubts = RANGES.flatMap((name) => rangeDoubts(`limits.${name}`, limits[name]));
  if (!(limits.dewMarginK >= MARGIN_LIMIT_RANGE_K.min && limits.dewMarginK <= MARGIN_LIMIT_RANGE_K.max)) {
    doubts.push({ field: "limits.dewMarginK", reason: "outside 1 to 8 K" });
  }
  const sorted = [...cure].sort((a, b) => a.slabC - b.slabC);
  for (const [index, row] of sorted.entries()) {
    doubts.push(...rowDoubts(row, `cure[${index}]`));
    if (sorted[index - 1]?.slabC === row.slabC)
      doubts.push({ field: `cure[${index}].slabC`, reason: "two rows at one temperature" });
  }
  doubts.push(...heatDoubts(sorted));
  if (!cure.some((row) => row.recoatFromH !== null))
    doubts.push({ field: "cure.recoatFromH", reason: "no recoat minimum" });
  if (sheet.window === "closes" && !cure.some((row) => row.recoatUntilH !== null)) {
    doubts.push({ field: "cure.recoatUntilH", reason: "window closes but no maximum is printed" });
  }
  return doubts;
}
