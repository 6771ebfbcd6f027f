// Everything of a job in one zip file: records, days, hand-over, night files, pictures, and the chain that vouches for them.
import type { NightFileBody } from "#contract/night-file.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { jsonPieces } from "#core/record/json-pieces.ts";
import { callsCsv, conditionsCsv, csvLine } from "./csv.ts";
import { coatRecord, headBody } from "./coat-record.ts";
import { daySummary } from "./day-summary.ts";
import { handOverBody } from "./hand-over-body.ts";
import { type ChainNow, chainNow } from "./heads-now.ts";
import { jobNights } from "./job-nights.ts";
import type { ChainedRow, ChainSource, KeptSeries, PdfOptions, RecordPdf, RecordSource } from "./ports.ts";
import { jobReadme } from "./readme.ts";
import { recordIndex } from "./record-index.ts";
import type { ZipFile } from "./zip.ts";

const LINES = 2000;

/** Language of the documents inside, and the units that come first in them. */
export type JobWish = Partial<Pick<PdfOptions, "language" | "units">>;

const json = (value: unknown) => `${JSON.stringify(value, null, 1)}\n`;

function* linesOf(rows: readonly ChainedRow[]): Generator<string> {
  for (let from = 0; from < rows.length; from += LINES) {
    const part = rows.slice(from, from + LINES);
    yield part.map(({ day, prev, hash, body }) => `${JSON.stringify({ day, prev, hash, body })}\n`).join("");
  }
}

function* readingLines(series: Iterable<KeptSeries>): Generator<string> {
  yield csvLine(["node", "quantity", "at_ms", "value", "heard_ms"]);
  for (const { node, quantity, rows } of series) {
    for (let from = 0; from < rows.length; from += LINES) {
      const part = rows.slice(from, from + LINES);
      yield part.map(([atMs, value, heardMs]) => csvLine([node, quantity, atMs, value, heardMs])).join("");
    }
  }
}

function* nightText(body: NightFileBody): Generator<string> {
  yield* jsonPieces(body);
  yield "\n";
}

export function* chainFiles(source: ChainSource, site: string, chain: ChainNow): Generator<ZipFile> {
  yield { path: "chain/journal.ndjson", chunks: linesOf(chain.journal) };
  yield { path: "chain/calls.ndjson", chunks: linesOf(chain.calls) };
  const heads = chain.heads.map((head) => ({ site, ...headBody(head), digests: head.digests }));
  yield { path: "chain/heads.json", chunks: [json(heads)] };
  const thinned = source.thinned(site).map(({ thinnedMs, ...one }) => ({ ...one, thinnedAt: isoFromMs(thinnedMs) }));
  if (thinned.length > 0) yield { path: "chain/thinned.json", chunks: [json(thinned)] };
  for (const { day, readingCount } of chain.heads) {
    if (readingCount === 0) continue;
    yield { path: `chain/readings/${day}.csv`, chunks: readingLines(source.readings(site, day, chain.beforeMs)) };
  }
}

/** null where there is no such site. The parts are made one by one while they are read. */
export function jobFiles(
  source: RecordSource,
  pdf: RecordPdf | null,
  siteId: string,
  wish: JobWish = {},
): AsyncGenerator<ZipFile> | null {
  const site = source.site(siteId);
  return site === null ? null : files(source, pdf, siteId, wish);
}

async function* files(
  source: RecordSource,
  pdf: RecordPdf | null,
  siteId: string,
  { language = "en", units = "us" }: JobWish,
): AsyncGenerator<ZipFile> {
  const cutMs = source.cut();
  const chain = await chainNow(source.chain, siteId, cutMs);
  const index = recordIndex(source, siteId, null);
  if (index === null) return;
  const options: PdfOptions = { language, units, photo: async (id) => source.photo(siteId, id) };
  yield { path: "README.txt", chunks: [jobReadme(siteId, isoFromMs(cutMs), chain.heads.at(-1)?.head ?? null)] };
  yield { path: "job.json", chunks: [json(index)] };
  yield {
    path: "setup.json",
    chunks: [json(source.history(siteId).map(({ fromMs, ...one }) => ({ from: isoFromMs(fromMs), ...one })))],
  };
  yield* chainFiles(source.chain, siteId, chain);
  const audit = [...source.audit(siteId)].map((line) => `${JSON.stringify(line)}\n`);
  if (audit.length > 0) yield { path: "audit.ndjson", chunks: [audit.join("")] };
  for (const { zone, coats } of index.zones) {
    for (const { coat, record } of coats) {
      const body = record ? coatRecord(source, siteId, zone, coat) : null;
      if (body === null) continue;
      const path = `records/${zone}/coat-${coat + 1}`;
      yield { path: `${path}.json`, chunks: [json(body)] };
      yield { path: `${path}-conditions.csv`, chunks: [conditionsCsv(body)] };
      yield { path: `${path}-calls.csv`, chunks: [callsCsv(body)] };
      if (pdf !== null) yield { path: `${path}.pdf`, chunks: [await pdf.coat(body, options)] };
    }
    const handOver = handOverBody(source, siteId, zone);
    if (handOver === null) continue;
    yield { path: `hand-over/${zone}.json`, chunks: [json(handOver)] };
    if (pdf !== null) yield { path: `hand-over/${zone}.pdf`, chunks: [await pdf.handOver(handOver, options)] };
  }
  for (const day of index.days) {
    const body = daySummary(source, siteId, day);
    if (body === null) continue;
    yield { path: `days/${day}.json`, chunks: [json(body)] };
    if (pdf !== null) yield { path: `days/${day}.pdf`, chunks: [await pdf.day(body, options)] };
  }
  for (const { zone, number, body } of jobNights(source, siteId, cutMs))
    yield { path: `nights/${zone}-${number}.night.json`, chunks: nightText(body) };
  yield* photoFiles(source, siteId);
}

function* photoFiles(source: RecordSource, siteId: string): Generator<ZipFile> {
  const journal = source.site(siteId)?.log.journal ?? [];
  const ids = new Set(journal.flatMap((entry) => (entry.did === "photographed" ? [entry.photo] : [])));
  for (const id of ids) {
    const bytes = source.photo(siteId, id);
    if (bytes !== null) yield { path: `photos/${id}.jpg`, chunks: [bytes] };
  }
}
