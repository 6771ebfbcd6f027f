// Doubts about probes over a stretch of time, each as the judge had it then.
import { entriesAt } from "#core/zone/heard.ts";
import { probesOf } from "#core/zone/probes.ts";
import { recordOf } from "#core/zone/record.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { historyFromMs } from "#core/zone/state.ts";
import type { DoubtKind } from "#core/zone/trust/doubt.ts";
import { trustOf } from "#core/zone/trust/trust.ts";
import { entriesOf, lineageOf, type ZoneNow } from "#core/zone/zones.ts";

/** Looked at this often: a doubt that stood for less may be missed here, but not in the calls. */
export const FAULT_STEP_MS = 3_600_000;

export interface ProbeFault {
  readonly probe: string;
  readonly kind: DoubtKind;
  readonly fromMs: number;
  /** When it was first not so any more; null: it stood at the end. */
  readonly toMs: number | null;
  readonly measured: number;
  readonly limit: number;
}

/** Doubts from `fromMs` to `toMs`, from what had been heard at each moment. */
export function faultsOf(log: SiteLog, zone: string, fromMs: number, toMs: number): ProbeFault[] {
  const open = new Map<string, ProbeFault>();
  const done: ProbeFault[] = [];
  const moments: number[] = [];
  for (let atMs = fromMs; atMs < toMs; atMs += FAULT_STEP_MS) moments.push(atMs);
  moments.push(toMs);
  for (const nowMs of moments) {
    const moment = { nowMs, heardByMs: nowMs };
    const lineage = lineageOf(log, zone, toMs);
    const record = recordOf(log, lineage[0] as ZoneNow, entriesOf(lineage, entriesAt(log, moment)));
    const { doubts } = trustOf(probesOf(log, lineage, record, moment, historyFromMs(record, nowMs)), record, moment);
    const standing = new Set(doubts.map(({ probe, kind }) => `${probe} ${kind}`));
    for (const [key, fault] of open) {
      if (standing.has(key)) continue;
      open.delete(key);
      done.push({ ...fault, toMs: nowMs });
    }
    for (const { probe, kind, sinceMs, measured, limit } of doubts) {
      const key = `${probe} ${kind}`;
      if (!open.has(key))
        open.set(key, { probe, kind, fromMs: Math.max(fromMs, Math.min(sinceMs, nowMs)), toMs: null, measured, limit });
    }
  }
  return [...done, ...open.values()].sort((a, b) => a.fromMs - b.fromMs || (a.probe < b.probe ? -1 : 1));
}
