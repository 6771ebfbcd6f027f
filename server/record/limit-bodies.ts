// The limits of the sheet as the record tells them: those of the air and the slab, of the resin, the tests and the window.
import type { LimitHeldBody } from "#contract/record-parts.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import { limitsHeld } from "#core/record/limits-held.ts";
import type { Passage } from "#core/record/passage.ts";
import type { CoatPour } from "#core/record/pours.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { ZoneState } from "#core/zone/state.ts";
import { round2 } from "./entry-bodies.ts";

const HOUR_MS = 3_600_000;
/** A hand reading of the resin speaks for two hours, as in the judge. */
const RESIN_MS = 2 * HOUR_MS;
/** Abrading reopens a closed window for a day, as in the judge. */
const ABRADING_MS = 24 * HOUR_MS;

type Row = LimitHeldBody;
const EMPTY = { worst: null, worstAt: null, outcome: "unknown", beyondMin: null } as const;

function resinRows(sheet: Sheet, pour: CoatPour, entries: readonly JournalEntry[]): Row[] {
  const read = entries.flatMap((entry) =>
    entry.did === "measured" &&
    entry.resinC !== undefined &&
    entry.atMs >= pour.fromMs - RESIN_MS &&
    entry.atMs <= pour.toMs
      ? [{ atMs: entry.atMs, resinC: entry.resinC }]
      : [],
  );
  const row = (limit: Row["limit"], value: number | null, sense: 1 | -1): Row[] => {
    if (value === null) return [];
    const base = { limit, span: "pour" as const, limitValue: value, unit: "C" };
    const worst = [...read].sort((a, b) => sense * (b.resinC - a.resinC))[0];
    if (worst === undefined) return [{ ...base, ...EMPTY }];
    const beyond = sense * (worst.resinC - value) > 0;
    return [
      {
        ...base,
        worst: worst.resinC,
        worstAt: isoFromMs(worst.atMs),
        outcome: beyond ? "not-met" : "met",
        beyondMin: null,
      },
    ];
  };
  return [...row("resin-cold", sheet.limits.resinC[0], -1), ...row("resin-hot", sheet.limits.resinC[1], 1)];
}

/** The worst of the latest test per spot, before the pour. */
function moistureRows(sheet: Sheet, pour: CoatPour, entries: readonly JournalEntry[]): Row[] {
  const row = (limit: Row["limit"], method: "F2170" | "F1869", value: number | null, unit: string): Row[] => {
    if (value === null) return [];
    const bySpot = new Map<string, { atMs: number; value: number }>();
    for (const entry of entries) {
      if (entry.did !== "tested" || entry.method !== method || entry.atMs > pour.fromMs) continue;
      const said = method === "F2170" ? entry.rhPct : entry.mverLb;
      if (said !== undefined) bySpot.set(entry.spot ?? "", { atMs: entry.atMs, value: said });
    }
    const worst = [...bySpot.values()].sort((a, b) => b.value - a.value)[0];
    const base = { limit, span: "before" as const, limitValue: value, unit, beyondMin: null };
    if (worst === undefined) return [{ ...base, ...EMPTY }];
    return [
      {
        ...base,
        worst: worst.value,
        worstAt: isoFromMs(worst.atMs),
        outcome: worst.value <= value ? "met" : "not-met",
      },
    ];
  };
  return [
    ...row("slab-rh", "F2170", sheet.limits.slabRhMaxPct, "%RH"),
    ...row("slab-mver", "F1869", sheet.limits.slabMverMaxLb, "lb"),
  ];
}

/** The window of the coat beneath: its minimum earned when this pour began, its maximum not passed when it ended. */
function windowRows(before: Passage | null, pour: CoatPour, entries: readonly JournalEntry[]): Row[] {
  if (before === null) return [];
  const minimum: Row = {
    limit: "recoat-minimum",
    span: "before",
    limitValue: 1,
    worst: round2(before.recoat.share),
    worstAt: isoFromMs(pour.fromMs),
    unit: "1",
    outcome: before.recoat.share >= 1 ? "met" : "not-met",
    beyondMin: null,
  };
  if (before.noMaximum) return [minimum];
  const lateH = before.closedMs === null ? null : (pour.toMs - before.closedMs) / HOUR_MS;
  const abraded = entries.some(
    (entry) =>
      entry.did === "abraded" &&
      entry.atMs > before.toMs &&
      entry.atMs <= pour.fromMs &&
      pour.toMs - entry.atMs <= ABRADING_MS,
  );
  const late = lateH !== null && lateH > 0;
  return [
    minimum,
    {
      limit: "recoat-maximum",
      span: "before",
      limitValue: 0,
      worst: round2(lateH),
      worstAt: isoOrNull(before.closedMs),
      unit: "h",
      outcome: late && !abraded ? "not-met" : "met",
      beyondMin: late ? Math.round((lateH as number) * 60) : 0,
    },
  ];
}

export function limitBodies(
  sheet: Sheet,
  after: ZoneState,
  before: Passage | null,
  pour: CoatPour,
  entries: readonly JournalEntry[],
): Row[] {
  const sensitiveToMs = after.film?.dewSafe.reachedMs ?? after.moment.nowMs;
  const held = limitsHeld(sheet, after.line, pour.fromMs, pour.toMs, sensitiveToMs, after.log.altitudeM);
  return [
    ...held.map(({ worstMs, worst, beyondMin, ...row }) => ({
      ...row,
      worst,
      worstAt: isoOrNull(worstMs),
      beyondMin: Math.round(beyondMin),
    })),
    ...resinRows(sheet, pour, entries),
    ...moistureRows(sheet, pour, entries),
    ...windowRows(before, pour, entries),
  ];
}
