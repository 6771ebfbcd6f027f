// The log of a zone around one coat: its readings, the sheets in force, and the states before the pour and at the end.
import type { SheetBody } from "#contract/sheet.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { sheetUsedAt } from "#core/cure/sheet-versions.ts";
import { type CoatPour, logUntil, poursOf, standingOf } from "#core/record/pours.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";
import { lineageOf, type ZoneNow } from "#core/zone/zones.ts";
import type { RecordSource, Version } from "./ports.ts";

const HOUR_MS = 3_600_000;
/** A record speaks of this long before the pour. */
const BEFORE_MS = 48 * HOUR_MS;
/** The judge looks back two days and two hours. */
const LOOK_BACK_MS = 52 * HOUR_MS;
/** The last coat is followed until it has earned all that its sheet prints, and no longer than this. */
const LONGEST_MS = 21 * 24 * HOUR_MS;

export interface CoatSource {
  readonly site: NonNullable<ReturnType<RecordSource["site"]>>;
  readonly zone: ZoneNow;
  readonly lineage: readonly ZoneNow[];
  readonly log: SiteLog;
  readonly entries: readonly JournalEntry[];
  readonly pour: CoatPour;
  readonly next: CoatPour | null;
  readonly nowMs: number;
  readonly fromMs: number;
  readonly toMs: number;
  /** The zone when the pour began, with the film beneath. */
  readonly before: ZoneState;
  /** The zone at the end of the record, with this film. */
  readonly after: ZoneState;
  readonly sheets: ReadonlyMap<string, SheetInForce>;
}

export interface SheetInForce {
  readonly body: SheetBody;
  readonly version: number;
  readonly sinceMs: number;
  readonly changedMs: readonly number[];
}

interface KeptSheet {
  readonly body: SheetBody;
  readonly version: number;
  readonly fromMs: number;
}

/** The version of each sheet that a coat poured at `atMs` keeps, by the rule of the judge. */
export function sheetsAt(history: readonly Version[], atMs: number): Map<string, SheetInForce> {
  const rows = new Map<string, KeptSheet[]>();
  for (const { kind, id, body, version, fromMs } of history)
    if (kind === "sheet" && body !== null) rows.set(id, [...(rows.get(id) ?? []), { body, version, fromMs }]);
  return new Map([...rows].map(([id, kept]) => [id, inForceOf(kept, id, atMs)]));
}

/** False for a row that only adds who confirmed the numbers before it. */
function beginsRevision(row: KeptSheet, before: KeptSheet | undefined): boolean {
  const { saved } = row.body;
  return saved === undefined || saved.revision !== before?.body.saved?.revision;
}

function inForceOf(kept: readonly KeptSheet[], id: string, atMs: number): SheetInForce {
  const versions = kept.map(({ body, fromMs }) => ({ fromMs, sheet: sheetFromBody(body) }));
  const used = sheetUsedAt(versions, id, atMs, Number.POSITIVE_INFINITY);
  const at = Math.max(
    0,
    versions.findIndex(({ sheet }) => sheet === used),
  );
  const { body, version, fromMs } = kept[at] as KeptSheet;
  // A confirmation keeps the numbers once more: they have stood since they were saved.
  const revision = body.saved?.revision;
  const first = revision === undefined ? undefined : kept.find((one) => one.body.saved?.revision === revision);
  return {
    body,
    version,
    sinceMs: first?.fromMs ?? fromMs,
    changedMs: kept.flatMap((one, index) => (index > at && beginsRevision(one, kept[index - 1]) ? [one.fromMs] : [])),
  };
}

export function nodesOf(log: SiteLog, lineage: readonly ZoneNow[]): string[] {
  const ids = new Set(lineage.map(({ id }) => id));
  return log.nodes.filter(({ zone }) => zone === null || ids.has(zone)).map(({ id }) => id);
}

/** When the last coat has earned all that its sheet prints; null while something is open. */
function allEarnedMs(state: ZoneState): number | null {
  const { film } = state;
  if (film === null) return null;
  const prints = (milestone: "footH" | "trafficH") => film.sheet.cure.some((row) => row[milestone] !== null);
  const wanted = [film.dewSafe, ...(prints("footH") ? [film.foot] : []), ...(prints("trafficH") ? [film.traffic] : [])];
  const reached = wanted.map(({ reachedMs }) => reachedMs);
  return reached.includes(null) ? null : Math.ceil(Math.max(...(reached as number[])));
}

/** null where there is no such zone, or the coat has not been poured. */
export function coatSource(source: RecordSource, siteId: string, zoneId: string, coat: number): CoatSource | null {
  const site = source.site(siteId);
  if (site === null) return null;
  const nowMs = source.now();
  let lineage: readonly ZoneNow[];
  try {
    lineage = lineageOf(site.log, zoneId, nowMs);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
  const zone = lineage[0] as ZoneNow;
  const entries = standingOf(site.log, zoneId, nowMs);
  const pours = poursOf(entries);
  const pour = pours.find((one) => one.coat === coat);
  if (pour === undefined) return null;
  const next = pours.find((one) => one.coat > coat) ?? null;
  const fromMs = pour.fromMs - BEFORE_MS;
  const lastMs = Math.max(pour.last.atMs, Math.min(next?.fromMs ?? nowMs, pour.toMs + LONGEST_MS));
  const sheets = sheetsAt(source.history(siteId), pour.fromMs);
  const inForce = { ...site.log, sheets: [...sheets.values()].map(({ body }) => sheetFromBody(body)) };
  const log = source.withReadings(inForce, nodesOf(site.log, lineage), fromMs - LOOK_BACK_MS, lastMs);
  const own = logUntil(log, entries, pour);
  const earlier = pours.filter((one) => one.coat < coat).at(-1) ?? null;
  const beneath = logUntil(log, entries, earlier ?? { ...pour, coat: -1 });
  const state = (of: SiteLog, atMs: number) => zoneState(of, zoneId, { nowMs: atMs, heardByMs: nowMs });
  const atEnd = state(own, lastMs);
  const earnedMs = next === null ? allEarnedMs(atEnd) : null;
  const toMs = earnedMs === null ? lastMs : Math.min(lastMs, Math.max(earnedMs, pour.last.atMs));
  return {
    site,
    zone,
    lineage,
    log,
    entries,
    pour,
    next,
    nowMs,
    fromMs,
    toMs,
    before: state(beneath, pour.fromMs),
    after: toMs === lastMs ? atEnd : state(own, toMs),
    sheets,
  };
}
