// The spot check: a call from three numbers and a sheet, without hardware or record.
import type { Sheet } from "#core/cure/sheet.ts";
import type { Call, RuleId, RuleResult } from "#core/judge/call.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog } from "#core/zone/site.ts";

export interface SpotReading {
  readonly slabC: number;
  readonly airC: number;
  readonly rhPct: number;
}

/** The rules that three numbers and a sheet can answer. */
const ASKED: ReadonlySet<RuleId> = new Set<RuleId>([
  "sheet-invalid",
  "frost",
  "condensing",
  "slab-cold",
  "slab-hot",
  "air-cold",
  "air-hot",
  "air-damp",
  "air-dry",
  "vapour-low",
  "dew-margin",
  "hand-check",
]);

function logOf(
  sheet: Sheet,
  reading: SpotReading,
  base: "porous" | "sealed",
  altitudeM: number,
  nowMs: number,
): SiteLog {
  const common = { zone: "spot", by: null, atMs: nowMs, heardMs: nowMs };
  const journal: JournalEntry[] = [{ ...common, id: "spot-1", did: "measured", ...reading }];
  return {
    site: "spot",
    timezone: "UTC",
    altitudeM,
    sheets: [sheet],
    zones: [{ id: "spot", name: "Spot check", areaM2: 1, pourM2PerH: 1, system: [sheet.id], base }],
    nodes: [],
    journal,
    series: [],
    feeds: [],
  };
}

/**
 * Judges conditions only: frost, dew and the limits of the sheet, by the same rules as a zone. Record, film, plan and
 * night are not looked at, so `pour` here means no more than that these three numbers fit the sheet now.
 * Throws RangeError if the humidity is not above 0 and at most 100 %.
 */
export function spotCheck(
  sheet: Sheet,
  reading: SpotReading,
  base: "porous" | "sealed",
  altitudeM: number,
  nowMs: number,
): Call {
  if (!(reading.rhPct > 0 && reading.rhPct <= 100)) throw new RangeError("rhPct: must be above 0 and at most 100");
  const { call } = judgeZone(logOf(sheet, reading, base, altitudeM, nowMs), "spot", nowMs);
  const rules: RuleResult[] = call.rules.filter((rule) => ASKED.has(rule.rule));
  const stop = rules.find((rule) => rule.outcome === "stop");
  return {
    ...call,
    call: stop === undefined ? "pour" : "wait",
    limiting: stop?.rule ?? null,
    rules,
    steps: [],
    validUntilMs: null,
    pour: null,
    next: null,
    night: null,
  };
}
