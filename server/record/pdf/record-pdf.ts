// The documents of the record: coat, day and hand-over, each drawn from its body alone. Whoever wants none loads nothing.
import type { RecordPdf } from "../ports.ts";

export const RECORD_PDF: RecordPdf = {
  coat: async (body, options) => (await import("./coat.ts")).coatPdf(body, options),
  day: async (body, options) => (await import("./day.ts")).dayPdf(body, options),
  handOver: async (body, options) => (await import("./hand-over.ts")).handOverPdf(body, options),
};
