// The documents of the record: coat, day and hand-over, each drawn from its body alone.
import type { RecordPdf } from "../ports.ts";
import { coatPdf } from "./coat.ts";
import { dayPdf } from "./day.ts";
import { handOverPdf } from "./hand-over.ts";

export const RECORD_PDF: RecordPdf = { coat: coatPdf, day: dayPdf, handOver: handOverPdf };
