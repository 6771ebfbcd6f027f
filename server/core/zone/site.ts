// What a site is made of: zones of floor, nodes that listen to them, and the log of all that was heard.
import type { Sheet } from "#core/cure/sheet.ts";
import type { SheetVersion } from "#core/cure/sheet-versions.ts";
import type { Outline } from "#core/plan/polygon.ts";
import type { JournalEntry } from "#core/zone/journal.ts";

/** A piece of floor poured in one go. `system` lists sheet ids, first coat first. */
export interface Zone {
  readonly id: string;
  readonly name: string;
  readonly areaM2: number;
  /** How fast this crew covers this zone, m2 per hour. */
  readonly pourM2PerH: number;
  /** How many they are; absent = nobody said. */
  readonly people?: number;
  readonly system: readonly string[];
  readonly base: "porous" | "sealed";
  /** On the plan of the site; no call is made from it. */
  readonly outline?: Outline;
  /** `areaM2` was typed and stands beside the outline. */
  readonly areaTyped?: boolean;
}

/** Accuracies as +- bounds (two sigma). */
export interface Accuracy {
  readonly slabK: number;
  readonly airK: number;
  readonly rhPct: number;
}

export interface ProbePlace {
  readonly place?: string;
  readonly xM?: number;
  readonly yM?: number;
}

/** One sensor device. `zone` null = outdoors. `probes` says where each quantity is measured. */
export interface Node {
  readonly id: string;
  readonly zone: string | null;
  readonly everyS: number;
  readonly accuracy: Accuracy;
  readonly probes?: Readonly<Record<string, ProbePlace>>;
}

/** Numbers in a row, as an array has them; below 0 `at` counts from the end. What is held for days is held in less memory. */
export interface Column {
  readonly length: number;
  /** None is larger; absent = not known. */
  readonly most?: number;
  at(index: number): number | undefined;
  slice(from?: number, to?: number): number[];
}

/**
 * All readings of one quantity of one node, ordered by the time they were taken.
 * `quantity`: `slab`, `slab.2`, ... and `air`, `dew` in °C; `rh` in percent; `battery` percent or V; `rssi` dBm; `door` 1 = open.
 */
export interface Series<C extends Column = readonly number[]> {
  readonly node: string;
  readonly quantity: string;
  readonly atMs: C;
  readonly values: C;
  /** When the reading arrived. */
  readonly heardMs: C;
}

/** As it stands in a log. */
export type LogSeries = Series<Column>;

export interface FeedHour {
  readonly atMs: number;
  readonly airC: number;
  readonly dewPointC: number;
}

/** One fetch of a weather feed, kept with its time so that a past call can be reproduced. */
export interface FeedFetch {
  readonly fetchedMs: number;
  /** Version of the recipe that it was read by. */
  readonly recipe?: number;
  readonly hours: readonly FeedHour[];
}

/**
 * Where things of a log stand, so that a site of a thousand zones is not gone through for each of them. It speaks of these
 * very lists, of which only the journal grows: a log that holds others is looked through.
 */
export interface SiteIndex {
  readonly zones: readonly Zone[];
  readonly nodes: readonly Node[];
  readonly series: readonly LogSeries[];
  readonly journal: readonly JournalEntry[];
  /** The last of this id. */
  zone(id: string): Zone | undefined;
  /** Nodes of a zone, outdoors for null, in the order of the log. */
  nodesIn(zone: string | null): readonly Node[];
  /** All that a node says, in the order of the log. */
  seriesOf(node: string): readonly LogSeries[];
  /** Entries of these zones and of the whole site, and whatever takes another one back, in the order of the journal. */
  entriesOf(zones: readonly string[]): readonly JournalEntry[];
  /** Every split, and whatever takes another entry back, in the order of the journal; none where none was ever split. */
  splits(): readonly JournalEntry[];
}

/** Everything a call is made from. A call at T uses only what had been heard by T. */
export interface SiteLog<C extends Column = Column> {
  readonly site: string;
  readonly timezone: string;
  readonly altitudeM: number;
  /** Sheets as they stand: the coats to come are held to these. */
  readonly sheets: readonly Sheet[];
  /** All that was ever kept of them, oldest first: a coat on the floor keeps its own. Absent = only what stands is known. */
  readonly sheetVersions?: readonly SheetVersion[];
  readonly zones: readonly Zone[];
  readonly nodes: readonly Node[];
  readonly journal: readonly JournalEntry[];
  readonly series: readonly Series<C>[];
  readonly feeds: readonly FeedFetch[];
  /** Changes nothing but how long it takes to find things. */
  readonly index?: SiteIndex;
}

/** One whose readings stand in arrays, as a night file is read. */
export type PlainLog = SiteLog<readonly number[]>;
