// What the live log needs from outside: a judge, a clock and a store.
import type { CallBody } from "#contract/call.ts";
import type { FeedRecipe } from "#contract/feed.ts";
import type { Fault } from "#contract/faults.ts";
import type { PlanBody } from "#contract/plan.ts";
import type { Reading } from "#contract/reading.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import type { Call } from "#core/judge/call.ts";
import type { Judged } from "#core/judge/judged.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { FeedFetch, FeedHour, Series, SiteLog } from "#core/zone/site.ts";
import type { LiveNodeStore } from "./ports-nodes.ts";

export interface Clock {
  nowMs(): number;
  /** Seconds of this clock in one second of the wall clock. */
  readonly pace: number;
}

export interface Judge {
  judgeZone(log: SiteLog, zone: string, nowMs: number, heardByMs?: number): Judged;
  /** The same of now, to be looked at again; without it every packet is judged. */
  readonly judgeToLook?: (log: SiteLog, zone: string, nowMs: number) => Judged;
  spotCheck(
    sheet: Sheet,
    reading: { readonly slabC: number; readonly airC: number; readonly rhPct: number },
    base: "porous" | "sealed",
    altitudeM: number,
    nowMs: number,
  ): Call;
}

export interface HeardReading extends Reading {
  readonly site: string;
  readonly heardMs: number;
}

export interface Bucket {
  readonly min: number | null;
  readonly mean: number | null;
  readonly max: number | null;
}

export type Presence = "online" | "offline" | "unknown";
type Landed = "stored" | "same" | "conflict";

interface Placed<T> {
  readonly body: T;
  readonly fromMs: number;
}

/** A recipe of a weather feed, with the number that its fetches carry. */
export interface NumberedFeed {
  readonly version: number;
  readonly body: FeedRecipe;
}

/** Whoever asks weather feeds. */
export interface FeedPort {
  /** `ageMs`: of the last fetch by this recipe; null without one. null = not any more. */
  watch(
    site: string,
    feed: { readonly version: number; readonly recipe: FeedRecipe; readonly ageMs: number | null } | null,
  ): void;
  state(site: string): {
    readonly lastGoodMs: number | null;
    readonly failures: number;
    readonly lastError: { readonly atMs: number; readonly faults: readonly Fault[] } | null;
    readonly nextMs: number;
  } | null;
  /** Asks once and keeps nothing. */
  look(
    recipe: FeedRecipe,
  ): Promise<{ readonly hours: readonly FeedHour[]; readonly skipped: number; readonly faults: readonly Fault[] }>;
}

/** The calls of the store that the live log makes. */
export interface LiveStore {
  readonly readings: {
    append(readings: readonly HeardReading[]): Landed[];
    range(site: string, node: string, quantity: string, fromMs: number, toMs: number): Series;
    lastBefore(site: string, node: string, quantity: string, beforeMs: number, heardByMs: number): HeardReading | null;
    latest(site: string): HeardReading[];
    buckets(site: string, node: string, quantity: string, fromMs: number, stepMs: number, points: number): Bucket[];
  };
  readonly journal: {
    append(site: string, entry: JournalEntry): Landed;
    entries(site: string): JournalEntry[];
  };
  readonly calls: {
    append(site: string, call: CallBody): void;
    since(site: string, zone: string, fromMs: number): CallBody[];
  };
  readonly runs: {
    begin(startedMs: number): void;
    alive(atMs: number): void;
    since(fromMs: number): { readonly startedMs: number; readonly aliveMs: number }[];
  };
  readonly records: {
    sites(): Placed<SiteBody>[];
    sheets(): Placed<SheetBody>[];
    sheetVersions(): Placed<SheetBody>[];
    zones(site: string): Placed<ZoneBody>[];
    nodes(site: string): Placed<NodeBody>[];
    putSite(body: SiteBody, fromMs: number): void;
    putSheet(body: SheetBody, fromMs: number): void;
    putZone(site: string, body: ZoneBody, fromMs: number): void;
    putNode(site: string, body: NodeBody, fromMs: number): void;
    removeZone(site: string, zone: string, fromMs: number): void;
    removeNode(site: string, node: string, fromMs: number): void;
    feed(site: string): NumberedFeed | null;
    putFeed(site: string, body: FeedRecipe | null, fromMs: number): number;
    plan(site: string): PlanBody | null;
    putPlan(site: string, body: PlanBody, fromMs: number): void;
    wasRemoved(kind: "zone" | "node", site: string, id: string): boolean;
  };
  readonly quarantine: {
    add(
      refused: readonly { site: string; node: string; reason: string; field: string; excerpt: string }[],
      heardMs: number,
    ): void;
    list(site: string): {
      readonly node: string;
      readonly reason: string;
      readonly field: string;
      readonly excerpt: string;
      readonly count: number;
      readonly firstMs: number;
      readonly lastMs: number;
    }[];
  };
  readonly presence: { of(site: string): Map<string, Presence> };
  readonly feeds: { append(site: string, fetch: FeedFetch): void; since(site: string, fromMs: number): FeedFetch[] };
  readonly nodes: LiveNodeStore;
  together<T>(work: () => T): T;
}
