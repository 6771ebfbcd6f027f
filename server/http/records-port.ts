// The part of the desk that tells the record: coats, days, hand-over, and a whole job as one file.
import type { HandOverBody } from "#contract/hand-over.ts";
import type { CoatRecordBody, DaySummaryBody, RecordIndexBody } from "#contract/record.ts";
import type { Answer } from "./answer.ts";

/** Language of the documents inside, and the units that come first in them. */
export interface JobWish {
  readonly language?: "en" | "es";
  readonly units?: "us" | "si";
}

export interface RecordsDesk {
  /** Coats of one zone, or of all (null). */
  coats(site: string, zone: string | null): Answer<RecordIndexBody>;
  /** `coat` as in the journal: counted from 0. */
  coatRecord(site: string, zone: string, coat: number): Answer<CoatRecordBody>;
  coatCsv(site: string, zone: string, coat: number, part: "conditions" | "calls"): Answer<string>;
  /** `day` by the site's own clock, written 2026-02-03. */
  daySummary(site: string, day: string): Answer<DaySummaryBody>;
  handOver(site: string, zone: string): Answer<HandOverBody>;
  /** A zip file, made while it is read. */
  exportJob(site: string, wish: JobWish): Answer<AsyncIterable<Uint8Array>>;
}
