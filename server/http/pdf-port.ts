// The part of the desk that draws the record as a document.
import type { Answer } from "./answer.ts";

/** `units`: which system stands first, and its paper; both stand in every figure. */
export interface PdfWish {
  readonly language: "en" | "es";
  readonly units: "us" | "si";
}

export interface PdfDesk {
  /** Conflict while too many documents are being drawn. */
  recordPdf(site: string, zone: string, coat: number, wish: PdfWish): Promise<Answer<Uint8Array>>;
  summaryPdf(site: string, day: string, wish: PdfWish): Promise<Answer<Uint8Array>>;
  handOverPdf(site: string, zone: string, wish: PdfWish): Promise<Answer<Uint8Array>>;
}
