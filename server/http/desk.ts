// The port of the HTTP routes and the stream: what they may ask of the running server.
import type { BoardBody, NodeStateBody, SeriesBody, SpotCheckBody, ZonePageBody } from "#contract/board.ts";
import type { CallBody } from "#contract/call.ts";
import type { FeedRecipe, FeedStateBody, FeedTriedBody, FeedTryBody } from "#contract/feed.ts";
import type { HealthBody } from "#contract/health.ts";
import type { HeatPlanBody, HeatQuestionBody } from "#contract/heat-plan.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { OutlookBody } from "#contract/outlook.ts";
import type { PhotoBody } from "#contract/photo.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { SheetVersionBody } from "#contract/sheet-version.ts";
import type { TakeoffBody } from "#contract/takeoff.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";
import type { AlarmDesk } from "./alarms-port.ts";
import type { Answer } from "./answer.ts";
import type { NodeDesk } from "./desk-nodes.ts";
import type { PdfDesk } from "./pdf-port.ts";
import type { RecordsDesk } from "./records-port.ts";
import type { SetUpDesk } from "./set-up-port.ts";

export interface JournalPage {
  readonly entries: readonly EntryBody[];
}

/** Everything a route may do. Bodies that reach the desk have already passed their schema. */
export interface Desk extends AlarmDesk, NodeDesk, RecordsDesk, PdfDesk, SetUpDesk {
  health(): HealthBody;
  /** Prometheus text format. */
  metrics(): string;
  sites(): readonly SiteBody[];
  /** Resolves when every zone of the site has been judged since the start, in turns with all else. */
  judgedOnce(site: string): Promise<void>;
  /** `withPast`: of so many zones, the first, the past is in it too; left out = of all. */
  board(site: string, withPast?: number): Answer<BoardBody>;
  /** How many zones can be judged now; 0 for a site that is not there. */
  zonesOf(site: string): number;
  zonePage(site: string, zone: string): Answer<ZonePageBody>;
  series(site: string, zone: string, fromMs: number, toMs: number, points: number): Promise<Answer<SeriesBody>>;
  outlook(site: string, zone: string): Answer<OutlookBody | null>;
  /** Conflict while nothing supports an outlook; invalid when the heating is to begin outside of it. */
  heatPlan(site: string, zone: string, question: HeatQuestionBody): Answer<HeatPlanBody>;
  /** `zone` null = all zones of the site. */
  takeoff(site: string, zone: string | null): Answer<TakeoffBody>;
  nightFile(site: string, zone: string): Answer<object>;
  importNightFile(
    site: string,
    file: unknown,
  ): Promise<Answer<{ readonly readings: number; readonly entries: number }>>;
  journal(site: string, zone: string | null, fromMs: number | null): Answer<JournalPage>;
  /** Stores the entry durably, judges, and gives it back with id, who and when it was heard. The same id twice is one entry. */
  addEntry(site: string, body: EntryBody, by: string | null): Promise<Answer<EntryBody>>;
  sheets(): readonly SheetBody[];
  /** `saved.revision` is the one that was looked at; conflict if another stands. The same numbers again change nothing. */
  putSheet(sheet: SheetBody, by?: string | null): Promise<Answer<SheetBody>>;
  /** Oldest first. */
  sheetVersions(sheet: string): Answer<readonly SheetVersionBody[]>;
  /** Somebody has held this revision against the page; conflict if another stands. */
  confirmSheet(sheet: string, revision: number, by: string | null): Promise<Answer<SheetBody>>;
  addSheetPhoto(bytes: Uint8Array, by: string | null): Promise<Answer<{ readonly id: string }>>;
  sheetPhoto(photo: string, size: "full" | "thumb"): Answer<Uint8Array>;
  addSite(site: SiteBody): Promise<Answer<SiteBody>>;
  patchSite(site: string, change: Partial<SiteBody>): Promise<Answer<SiteBody>>;
  putZone(site: string, zone: ZoneBody, mode: "add" | "change"): Promise<Answer<ZoneBody>>;
  removeZone(site: string, zone: string): Promise<Answer<null>>;
  nodes(site: string): Answer<readonly NodeStateBody[]>;
  putNode(site: string, node: NodeBody, mode: "add" | "change"): Promise<Answer<NodeBody>>;
  removeNode(site: string, node: string): Promise<Answer<null>>;
  photos(site: string): Answer<readonly PhotoBody[]>;
  /** Kept as a plain JPEG under its own hash; invalid with the reason when it is no picture that can be read to its end. */
  addPhoto(site: string, bytes: Uint8Array, by: string | null): Promise<Answer<PhotoBody>>;
  photo(site: string, photo: string, size: "full" | "thumb"): Answer<Uint8Array>;
  spotCheck(body: SpotCheckBody): Answer<CallBody>;
  feed(site: string): Answer<FeedStateBody>;
  putFeed(site: string, recipe: FeedRecipe): Promise<Answer<FeedStateBody>>;
  removeFeed(site: string): Promise<Answer<null>>;
  /** Asks the source unless there is a body; stores nothing. */
  tryFeed(site: string, wish: FeedTryBody): Promise<Answer<FeedTriedBody>>;
}
