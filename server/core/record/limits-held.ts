// The limits of the sheet held against what was read: while the coat was poured, and until it was past dew.
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import { waterAtDewPointGPerKg } from "#core/zone/conditions.ts";
import type { Timeline } from "#core/zone/timeline.ts";

export type HeldLimit =
  | "slab-cold"
  | "slab-hot"
  | "air-cold"
  | "air-hot"
  | "air-dry"
  | "air-damp"
  | "vapour-low"
  | "dew-margin";
export type Outcome = "met" | "not-met" | "unknown";

export interface Held {
  readonly limit: HeldLimit;
  readonly span: "pour" | "dew-sensitive";
  readonly limitValue: number;
  readonly worst: number | null;
  readonly worstMs: number | null;
  readonly unit: string;
  readonly outcome: Outcome;
  /** Minutes beyond the limit. */
  readonly beyondMin: number;
}

interface Looked {
  readonly worst: number | null;
  readonly worstMs: number | null;
  readonly beyondMin: number;
  readonly covered: boolean;
}

/** Walks one column; `sense` 1: the limit is a maximum, -1: a minimum. A gap longer than a reading speaks is not covered. */
function look(
  line: Timeline,
  value: (index: number) => number,
  fromMs: number,
  toMs: number,
  limit: number,
  sense: 1 | -1,
): Looked {
  let worst: number | null = null;
  let worstMs: number | null = null;
  let beyondMs = 0;
  let covered = true;
  let lastMs = Number.NaN;
  let lastBeyond = false;
  for (let index = 0; index < line.readings; index++) {
    const atMs = line.atMs[index] as number;
    if (atMs > toMs) break;
    const now = value(index);
    if (Number.isNaN(now) || atMs < fromMs - HOLD_MS) continue;
    if (atMs > fromMs && !(atMs - Math.max(lastMs, fromMs - HOLD_MS) <= HOLD_MS)) covered = false;
    const beyond = sense * (now - limit) > 1e-9;
    if (lastBeyond && atMs - lastMs <= HOLD_MS) beyondMs += Math.max(0, atMs - Math.max(lastMs, fromMs));
    if (atMs >= fromMs && (worst === null || sense * (now - worst) > 0)) {
      worst = now;
      worstMs = atMs;
    }
    lastMs = atMs;
    lastBeyond = beyond;
  }
  if (Number.isNaN(lastMs) || toMs - lastMs > HOLD_MS) covered = false;
  else if (lastBeyond) beyondMs += toMs - Math.max(lastMs, fromMs);
  return { worst, worstMs, beyondMin: beyondMs / 60_000, covered };
}

/**
 * Every limit that the sheet has. Met: within it at each reading, and no gap of more than half an hour. Not met: beyond it
 * at any reading. Unknown: within it as far as it was read, but not read throughout. `sensitiveToMs`: past dew by then.
 */
export function limitsHeld(
  sheet: Sheet,
  line: Timeline,
  fromMs: number,
  toMs: number,
  sensitiveToMs: number,
  altitudeM: number,
): Held[] {
  const { limits } = sheet;
  const column = (of: Float64Array) => (index: number) => of[index] as number;
  const vapour = (index: number) => {
    const dewC = line.dewPointMinC[index] as number;
    return Number.isNaN(dewC) ? dewC : waterAtDewPointGPerKg(dewC, altitudeM);
  };
  const rows: [HeldLimit, Held["span"], number | null, (index: number) => number, 1 | -1, string][] = [
    ["slab-cold", "pour", limits.slabC[0], column(line.slabColdC), -1, "C"],
    ["slab-hot", "pour", limits.slabC[1], column(line.slabHotC), 1, "C"],
    ["air-cold", "pour", limits.airC[0], column(line.airMinC), -1, "C"],
    ["air-hot", "pour", limits.airC[1], column(line.airMaxC), 1, "C"],
    ["air-dry", "pour", limits.rhPct[0], column(line.rhMinPct), -1, "%RH"],
    ["air-damp", "pour", limits.rhPct[1], column(line.rhMaxPct), 1, "%RH"],
    ["vapour-low", "pour", limits.waterGPerKg[0], vapour, -1, "g/kg"],
    ["dew-margin", "pour", limits.dewMarginK, column(line.marginK), -1, "K"],
    ["slab-cold", "dew-sensitive", limits.slabC[0], column(line.slabColdC), -1, "C"],
    ["dew-margin", "dew-sensitive", limits.dewMarginK, column(line.marginK), -1, "K"],
  ];
  return rows.flatMap(([limit, span, limitValue, value, sense, unit]) => {
    if (limitValue === null) return [];
    const { worst, worstMs, beyondMin, covered } = look(
      line,
      value,
      fromMs,
      span === "pour" ? toMs : sensitiveToMs,
      limitValue,
      sense,
    );
    const beyond = worst !== null && sense * (worst - limitValue) > 1e-9;
    const outcome = beyond ? "not-met" : worst !== null && covered ? "met" : "unknown";
    // To two decimals, away from the limit's good side: 2.997 of 3 must not read as 3.00.
    const told = worst === null ? null : (sense * Math.ceil(sense * worst * 100 - 1e-6)) / 100;
    return [{ limit, span, limitValue, worst: told, worstMs, unit, outcome, beyondMin }];
  });
}
