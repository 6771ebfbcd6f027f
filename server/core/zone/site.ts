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

/**
 * All readings of one quantity of one node, ordered by the time they were taken.
 * `quantity`: `slab`, `slab.2`, ... and `air`, `dew` in °C; `rh` in percent; `battery` percent or V; `rssi` dBm; `door` 1 = open.
 */
export interface Series {
  readonly node: string;
  readonly quantity: string;
  readonly atMs: readonly number[];
  readonly values: readonly number[];
  /** When the reading arrived. */
  readonly heardMs: readonly number[];
}

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

/** Everything a call is made from. A call at T uses only what had been heard by T. */
export interface SiteLog {
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
  readonly series: readonly Series[];
  readonly feeds: readonly FeedFetch[];
}
