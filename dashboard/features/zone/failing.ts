// The chances of the rules that may fail, taken at a few hours. Pure.
import type { OutlookBody } from "#contract/outlook.ts";

export const HOURS = [3, 6, 12, 24, 36] as const;

export interface FailingRow {
  readonly rule: string;
  /** One for each of the hours; null where the outlook does not reach so far. */
  readonly chances: readonly (number | null)[];
}

/** Hours are counted from `nowMs`: an outlook that has aged begins some hours ago. The likeliest of the next 36 h first. */
export function failingRows(outlook: OutlookBody, nowMs: number): FailingRow[] {
  const agedH = Math.max(0, Math.floor((nowMs - Date.parse(outlook.from)) / 3_600_000));
  return outlook.failing
    .map(({ rule, byHour }) => ({ rule, chances: HOURS.map((hours) => byHour[agedH + hours - 1] ?? null) }))
    .filter(({ chances }) => chances.some((chance) => (chance ?? 0) >= 0.005))
    .sort((a, b) => weight(b) - weight(a));
}

const weight = (row: FailingRow) => row.chances.reduce<number>((sum, chance) => sum + (chance ?? 0), 0);

/** How dark a chance is drawn, 0 to 4. */
export function levelOf(chance: number | null): 0 | 1 | 2 | 3 | 4 {
  if (chance === null || chance < 0.05) return 0;
  if (chance < 0.25) return 1;
  if (chance < 0.5) return 2;
  return chance < 0.75 ? 3 : 4;
}
