// The documents that may be asked for: the body as the record tells it, drawn one after the other so that none starves the log.
import type { Fault } from "#contract/faults.ts";
import type { HandOverBody } from "#contract/hand-over.ts";
import type { CoatRecordBody, DaySummaryBody } from "#contract/record.ts";
import type { PdfOptions, RecordPdf } from "./ports.ts";

type Refusal = { readonly ok: false; readonly refusal: "missing" | "conflict"; readonly faults: readonly Fault[] };
type Answer<T> = { readonly ok: true; readonly value: T } | Refusal;
export type PdfWish = Omit<PdfOptions, "photo">;

export interface PdfDeskParts {
  readonly pdf: RecordPdf;
  readonly record: {
    coatRecord(site: string, zone: string, coat: number): Answer<CoatRecordBody>;
    daySummary(site: string, day: string): Answer<DaySummaryBody>;
    handOver(site: string, zone: string): Answer<HandOverBody>;
  };
  readonly photo: (site: string, id: string) => Uint8Array | null;
}

/** A document takes up to some seconds; whoever comes after so many is told to come again. */
const MOST_WAITING = 8;
const BUSY: Refusal = {
  ok: false,
  refusal: "conflict",
  faults: [{ field: "/", reason: "too many documents are being drawn: ask again in a minute" }],
};

export function createPdfDesk({ pdf, record, photo }: PdfDeskParts) {
  let last: Promise<unknown> = Promise.resolve();
  let waiting = 0;
  const draw = <T>(
    site: string,
    wish: PdfWish,
    bodyOf: () => Answer<T>,
    by: (body: T, options: PdfOptions) => Promise<Uint8Array>,
  ) => {
    if (waiting >= MOST_WAITING) return Promise.resolve(BUSY);
    waiting += 1;
    const turn = last.then(async (): Promise<Answer<Uint8Array>> => {
      const body = bodyOf();
      if (!body.ok) return body;
      return { ok: true, value: await by(body.value, { ...wish, photo: async (id) => photo(site, id) }) };
    });
    last = turn.catch(() => undefined);
    return turn.finally(() => (waiting -= 1));
  };
  return {
    recordPdf: (site: string, zone: string, coat: number, wish: PdfWish): Promise<Answer<Uint8Array>> =>
      draw(site, wish, () => record.coatRecord(site, zone, coat), pdf.coat),
    summaryPdf: (site: string, day: string, wish: PdfWish): Promise<Answer<Uint8Array>> =>
      draw(site, wish, () => record.daySummary(site, day), pdf.day),
    handOverPdf: (site: string, zone: string, wish: PdfWish): Promise<Answer<Uint8Array>> =>
      draw(site, wish, () => record.handOver(site, zone), pdf.handOver),
  };
}
