// What may be asked of the record: the list, one coat, one day, the hand-over, and a whole job as one file.
import type { Fault } from "#contract/faults.ts";
import type { HandOverBody } from "#contract/hand-over.ts";
import type { CoatRecordBody, DaySummaryBody, RecordIndexBody } from "#contract/record.ts";
import { coatRecord } from "./coat-record.ts";
import { callsCsv, conditionsCsv } from "./csv.ts";
import { daySummary } from "./day-summary.ts";
import { handOverBody } from "./hand-over-body.ts";
import { jobFiles, type JobWish } from "./job-export.ts";
import type { RecordPdf, RecordSource } from "./ports.ts";
import { recordIndex } from "./record-index.ts";
import { zipOf } from "./zip.ts";

type Refusal = { readonly ok: false; readonly refusal: "missing"; readonly faults: readonly Fault[] };
type Answer<T> = { readonly ok: true; readonly value: T } | Refusal;

function found<T>(value: T | null, field: string, reason: string): Answer<T> {
  return value === null ? { ok: false, refusal: "missing", faults: [{ field, reason }] } : { ok: true, value };
}

export function createRecorder(source: RecordSource, pdf: RecordPdf | null) {
  const noSite = (site: string): Refusal | null =>
    source.site(site) === null
      ? { ok: false, refusal: "missing", faults: [{ field: "/site", reason: `no site "${site}"` }] }
      : null;
  const record = (site: string, zone: string, coat: number): Answer<CoatRecordBody> =>
    noSite(site) ??
    found(coatRecord(source, site, zone, coat), "/coat", `no such coat has been poured in zone "${zone}" of this site`);
  return {
    coats: (site: string, zone: string | null): Answer<RecordIndexBody> =>
      noSite(site) ?? found(recordIndex(source, site, zone), "/zone", `no zone "${zone}" on this site`),
    coatRecord: record,
    coatCsv(site: string, zone: string, coat: number, part: "conditions" | "calls"): Answer<string> {
      const body = record(site, zone, coat);
      if (!body.ok) return body;
      return { ok: true, value: part === "calls" ? callsCsv(body.value) : conditionsCsv(body.value) };
    },
    daySummary: (site: string, day: string): Answer<DaySummaryBody> =>
      noSite(site) ?? found(daySummary(source, site, day), "/day", "no such day, or it has not begun here"),
    handOver: (site: string, zone: string): Answer<HandOverBody> =>
      noSite(site) ?? found(handOverBody(source, site, zone), "/zone", `no zone "${zone}" on this site`),
    /** The zip file of a job, made while it is read. */
    exportJob(site: string, wish: JobWish): Answer<AsyncIterable<Uint8Array>> {
      const files = jobFiles(source, pdf, site, wish);
      if (files === null) return noSite(site) as Refusal;
      return { ok: true, value: zipOf(files, new Date(source.now())) };
    },
  };
}
