// What the record needs from outside: the log of a site, what was shown and linked, and somebody who draws a page.
import type { CallBody } from "#contract/call.ts";
import type { HandOverBody } from "#contract/hand-over.ts";
import type { CoatRecordBody, DaySummaryBody } from "#contract/record.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";
import type { HeadParts, SeriesDigest } from "#core/record/chain.ts";
import type { FeedFetch, SiteLog } from "#core/zone/site.ts";

export interface PdfOptions {
  readonly language: "en" | "es";
  /** Both systems stand in every figure; this one first, and on its paper (Letter or A4). US unless given. */
  readonly units?: "us" | "si";
  /** Bytes of a photo of the journal by its id; null if it is not there. */
  readonly photo: (id: string) => Promise<Uint8Array | null>;
}

export interface RecordPdf {
  coat(body: CoatRecordBody, options: PdfOptions): Promise<Uint8Array>;
  day(body: DaySummaryBody, options: PdfOptions): Promise<Uint8Array>;
  handOver(body: HandOverBody, options: PdfOptions): Promise<Uint8Array>;
}

export interface LinkedCall {
  readonly call: CallBody;
  readonly hash: string;
}

/** One version of something that a person set up. */
export type Version = { readonly id: string; readonly version: number; readonly fromMs: number } & (
  | { readonly kind: "site"; readonly body: SiteBody | null }
  | { readonly kind: "sheet"; readonly body: SheetBody | null }
  | { readonly kind: "zone"; readonly body: ZoneBody | null }
  | { readonly kind: "node"; readonly body: NodeBody | null }
);

export interface ChainedRow {
  readonly day: string;
  readonly body: object;
  readonly prev: string;
  readonly hash: string;
}

export interface KeptSeries {
  readonly node: string;
  readonly quantity: string;
  readonly rows: readonly (readonly [atMs: number, value: number, heardMs: number])[];
}

export interface Head extends HeadParts {
  readonly head: string;
  readonly digests: readonly SeriesDigest[];
  readonly closed: boolean;
}

/** A series of a closed day whose rows were thinned or deleted by age; its digest stands. */
export interface ThinnedSeries {
  readonly day: string;
  readonly node: string;
  readonly quantity: string;
  /** Rows that were left, at most. */
  readonly left: number;
  readonly thinnedMs: number;
}

export interface AuditLine {
  readonly at: string;
  readonly who: string | null;
  readonly role: string | null;
  readonly did: string;
  readonly about: string;
}

export interface ChainSource {
  heads(site: string): Head[];
  journal(site: string, throughDay: string): ChainedRow[];
  calls(site: string, throughDay: string): ChainedRow[];
  readings(site: string, day: string, beforeMs?: number): Iterable<KeptSeries>;
  openDays(site: string, nowMs: number): string[];
  thinned(site: string): readonly ThinnedSeries[];
}

/** The running server as the record sees it. */
export interface RecordSource {
  now(): number;
  /** A moment after which everything that is heard has a later time. */
  cut(): number;
  /** A site as it stands: its log without readings, and its bodies; null without such a site. */
  site(site: string): {
    readonly body: SiteBody;
    readonly zones: readonly ZoneBody[];
    readonly nodes: readonly NodeBody[];
    readonly log: SiteLog;
  } | null;
  /** The same log with the readings of these nodes from `fromMs` to `toMs`, and the last before; also of those heard by `heardByMs`. */
  withReadings(log: SiteLog, nodes: readonly string[], fromMs: number, toMs: number, heardByMs?: number): SiteLog;
  feeds(site: string, fromMs: number): readonly FeedFetch[];
  history(site: string): readonly Version[];
  /** Calls shown since, oldest first, with the one that stood then. */
  calls(site: string, zone: string, fromMs: number): readonly LinkedCall[];
  hashes(site: string): ReadonlyMap<string, string>;
  runs(fromMs: number): readonly { readonly startedMs: number; readonly aliveMs: number }[];
  readonly chain: ChainSource;
  /** Who changed what, oldest first; nothing while accounts are off. */
  audit(site: string): Iterable<AuditLine>;
  photo(site: string, id: string): Uint8Array | null;
}
