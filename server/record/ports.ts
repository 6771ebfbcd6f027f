// What the record needs from outside: somebody who draws a page.
import type { HandOverBody } from "#contract/hand-over.ts";
import type { CoatRecordBody, DaySummaryBody } from "#contract/record.ts";

export interface PdfOptions {
  readonly language: "en" | "es";
  /** Bytes of a photo of the journal by its id; null if it is not there. */
  readonly photo: (id: string) => Promise<Uint8Array | null>;
}

export interface RecordPdf {
  coat(body: CoatRecordBody, options: PdfOptions): Promise<Uint8Array>;
  day(body: DaySummaryBody, options: PdfOptions): Promise<Uint8Array>;
  handOver(body: HandOverBody, options: PdfOptions): Promise<Uint8Array>;
}
