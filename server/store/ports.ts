// What a store does, whatever engine is behind it. The conformance suite holds every store to these words.
import type { CallBody } from "#contract/call.ts";
import type { FeedRecipe } from "#contract/feed.ts";
import type { KnockBody } from "#contract/knock.ts";
import type { PlanBody } from "#contract/plan.ts";
import type { Reading } from "#contract/reading.ts";
import type { RecipeBody } from "#contract/recipe.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";
import type { PeopleStore } from "./people-ports.ts";
import type { HeadParts, SeriesDigest } from "#core/record/chain.ts";
import type { FeedFetch, Series } from "#core/zone/site.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { PhotoStore } from "./photos-port.ts";

export interface SiteReading extends Reading {
  readonly site: string;
}

export interface HeardReading extends SiteReading {
  /** When the log learnt of it, epoch ms. */
  readonly heardMs: number;
}

/** `same`: this value was here already. `conflict`: another value was; it stands. */
export type Landed = "stored" | "same" | "conflict";

/** Smallest, mean and largest value of a step; null where nothing was heard. */
export interface Bucket {
  readonly min: number | null;
  readonly mean: number | null;
  readonly max: number | null;
}

export interface ReadingStore {
  /** Keeps readings by (site, node, quantity, time): first come, first kept. One answer per reading, in order. */
  append(readings: readonly HeardReading[]): Landed[];
  /** Readings from `fromMs` to `toMs` (both included), oldest first; empty arrays if there are none. */
  range(site: string, node: string, quantity: string, fromMs: number, toMs: number): Series;
  /** The last reading before `beforeMs`, of those heard by `heardByMs`; null if there is none. */
  lastBefore(site: string, node: string, quantity: string, beforeMs: number, heardByMs: number): HeardReading | null;
  /** The newest reading of every series of a site. */
  latest(site: string): HeardReading[];
  /** `points` equal steps from `fromMs`; a step holds its start and not its end. Gaps stay gaps. */
  buckets(site: string, node: string, quantity: string, fromMs: number, stepMs: number, points: number): Bucket[];
}

export interface JournalStore {
  /** The same id with the same words again is `same`; with other words it is `conflict`, and the first stands. */
  append(site: string, entry: JournalEntry): Landed;
  /** All entries of a site in the order in which they were heard. */
  entries(site: string): JournalEntry[];
  /** Hash of every entry by its id: each is linked to the one kept before it. */
  hashes(site: string): Map<string, string>;
}

/** A call as it was shown from its time on. */
export interface CallStore {
  append(site: string, call: CallBody): void;
  /** Calls of a zone shown at `fromMs` or later, oldest first: the one that stood at `fromMs` included. */
  since(site: string, zone: string, fromMs: number): CallBody[];
  /** The same with the hash of each. */
  linkedSince(site: string, zone: string, fromMs: number): { readonly call: CallBody; readonly hash: string }[];
}

/** A link of the journal or of the calls as it stands in the table. */
export interface ChainedRow {
  readonly day: string;
  readonly body: object;
  readonly prev: string;
  readonly hash: string;
}

export type KeptReading = readonly [atMs: number, value: number, heardMs: number];

/** Readings of one series that a day kept, by the time at which they were taken. */
export interface KeptSeries {
  readonly node: string;
  readonly quantity: string;
  readonly rows: readonly KeptReading[];
}

export interface DayHead extends HeadParts {
  readonly head: string;
  readonly digests: readonly SeriesDigest[];
  readonly closed: boolean;
  /** When an anchor outside took it; null if none has. */
  readonly anchoredMs: number | null;
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

/** The chain of evidence, day by day. Days are days of UTC, written 2026-02-03. */
export interface HeadStore {
  /** Heads of the closed days of a site, oldest first. */
  heads(site: string): DayHead[];
  /** All links kept by the end of a day, in their order. */
  journal(site: string, throughDay: string): ChainedRow[];
  calls(site: string, throughDay: string): ChainedRow[];
  /** What a day kept of each series, of that heard before `beforeMs`. */
  readings(site: string, day: string, beforeMs?: number): Iterable<KeptSeries>;
  /** Days up to today that kept something and are not closed. */
  openDays(site: string, nowMs: number): string[];
  /** Closes all days before today, of every site, letting others work in between; gives what it closed. */
  closeDays(nowMs: number, isStopped: () => boolean): Promise<DayHead[]>;
  anchored(site: string, day: string, atMs: number): void;
  /** What age has taken away from closed days. */
  thinned(site: string): ThinnedSeries[];
}

/** A stretch of time in which the server ran. */
export interface Run {
  readonly startedMs: number;
  readonly aliveMs: number;
}

export interface RunStore {
  begin(startedMs: number): void;
  /** Says that this run is alive at this time. */
  alive(atMs: number): void;
  since(fromMs: number): Run[];
}

export interface Placed<T> {
  readonly site: string;
  readonly body: T;
  /** When this version came. */
  readonly fromMs: number;
}

/** A recipe of a weather feed, with its number: fetches carry it. */
export interface NumberedFeed {
  readonly version: number;
  readonly body: FeedRecipe;
}

/** One version of something that a person set up. */
export type Version = { readonly id: string; readonly version: number; readonly fromMs: number } & (
  | { readonly kind: "site"; readonly body: SiteBody | null }
  | { readonly kind: "sheet"; readonly body: SheetBody | null }
  | { readonly kind: "zone"; readonly body: ZoneBody | null }
  | { readonly kind: "node"; readonly body: NodeBody | null }
);

/** Sites, zones, nodes and sheets. Every version is kept; the newest stands. */
export interface RecordStore {
  sites(): Placed<SiteBody>[];
  sheets(): Placed<SheetBody>[];
  /** Every version of every sheet, oldest first. */
  sheetVersions(): Placed<SheetBody>[];
  zones(site: string): Placed<ZoneBody>[];
  nodes(site: string): Placed<NodeBody>[];
  putSite(body: SiteBody, fromMs: number): void;
  putSheet(body: SheetBody, fromMs: number): void;
  putZone(site: string, body: ZoneBody, fromMs: number): void;
  putNode(site: string, body: NodeBody, fromMs: number): void;
  removeZone(site: string, zone: string, fromMs: number): void;
  removeNode(site: string, node: string, fromMs: number): void;
  /** The feed of a site; null when it has none. */
  feed(site: string): NumberedFeed | null;
  /** Gives the number of the new version; null takes the feed away, which is a version too. */
  putFeed(site: string, body: FeedRecipe | null, fromMs: number): number;
  /** What the outlines of a site are drawn on; null before anything was drawn. Every version is kept. */
  plan(site: string): PlanBody | null;
  putPlan(site: string, body: PlanBody, fromMs: number): void;
  /** Every version of what makes up a site's record, oldest first; a body of null says that it was removed. */
  history(site: string): Version[];
  /** True if a zone or node of this id was there once and is removed. */
  wasRemoved(kind: "zone" | "node", site: string, id: string): boolean;
}

/** Something that was refused, with what is needed to see why. */
export interface Refused {
  readonly site: string;
  readonly node: string;
  readonly reason: string;
  readonly field: string;
  /** The beginning of what was sent. */
  readonly excerpt: string;
}

export interface Quarantined extends Refused {
  readonly count: number;
  readonly firstMs: number;
  readonly lastMs: number;
}

export interface QuarantineStore {
  add(refused: readonly Refused[], heardMs: number): void;
  /** One line per node and reason, newest first. */
  list(site: string): Quarantined[];
}

export type Presence = "online" | "offline" | "unknown";

export interface PresenceStore {
  set(site: string, node: string, presence: Presence, heardMs: number): void;
  /** Whoever was online is unknown from now on: the broker that knew has gone. */
  forget(heardMs: number): void;
  of(site: string): Map<string, Presence>;
}

export interface FeedStore {
  append(site: string, fetch: FeedFetch): void;
  since(site: string, fromMs: number): FeedFetch[];
}

/** A node that asks to be let in. */
export interface Knock {
  readonly node: string;
  readonly body: KnockBody;
  /** Where it came from, as far as the broker tells. */
  readonly address: string | null;
  readonly state: "waiting" | "refused";
  readonly firstMs: number;
  readonly lastMs: number;
  readonly times: number;
  /** Knocks under this name with another key. */
  readonly others: number;
}

/** A message of a node that is not let in yet. */
export interface HeldMessage {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly heardMs: number;
}

/** From when on a device speaks as a node other than its own name: it was carried to another zone. */
export interface DeviceStay {
  readonly device: string;
  readonly fromMs: number;
  readonly node: string;
}

export interface NodeLife {
  readonly retiredMs: number;
  readonly replacedBy: string | null;
}

/** What lets nodes in, and what became of them. */
export interface NodeStore {
  joinSecret(site: string): string | null;
  putJoinSecret(site: string, secret: string, fromMs: number): void;
  /** SHA-256 of a node's password, in hexadecimal; null when it has none of its own. */
  key(site: string, node: string): string | null;
  /** Nodes with a password of their own, and since when. */
  keys(site: string): Map<string, number>;
  putKey(site: string, node: string, key: string | null, fromMs: number): void;
  knocks(site: string): Knock[];
  putKnock(site: string, knock: Knock): void;
  dropKnock(site: string, node: string): void;
  hold(site: string, node: string, message: HeldMessage): void;
  heldSize(site: string, node: string): { readonly messages: number; readonly bytes: number };
  held(site: string, node: string): HeldMessage[];
  dropHeld(site: string, node: string): void;
  lives(site: string): (NodeLife & { readonly node: string })[];
  putLife(site: string, node: string, life: NodeLife | null): void;
  devices(site: string): DeviceStay[];
  putDevice(site: string, stay: DeviceStay): void;
  recipes(site: string): RecipeBody[];
  putRecipes(site: string, recipes: readonly RecipeBody[], fromMs: number): void;
}

export interface Store {
  readonly readings: ReadingStore;
  readonly journal: JournalStore;
  readonly calls: CallStore;
  readonly runs: RunStore;
  readonly records: RecordStore;
  readonly quarantine: QuarantineStore;
  readonly presence: PresenceStore;
  readonly feeds: FeedStore;
  readonly heads: HeadStore;
  readonly people: PeopleStore;
  readonly photos: PhotoStore;
  readonly nodes: NodeStore;
  /** All that `work` writes is kept, or nothing of it. It is on the disk when this returns; it throws if it is not. */
  together<T>(work: () => T): T;
  close(): void;
}
