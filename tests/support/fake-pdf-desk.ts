// Documents of a desk kept in memory: the first bytes of a PDF are enough for the door.
import type { Refusal } from "../../server/http/answer.ts";
import type { PdfDesk } from "../../server/http/pdf-port.ts";

export function fakePdfDesk(missing: (site: string, zone: string | null) => Refusal | null): PdfDesk {
  const drawn = (site: string, zone: string | null, of: object) =>
    missing(site, zone) ?? { ok: true as const, value: Buffer.from(`%PDF-1.7\n% ${JSON.stringify(of)}\n`) };
  return {
    recordPdf: async (site, zone, coat, wish) => drawn(site, zone, { coat, ...wish }),
    summaryPdf: async (site, day, wish) => drawn(site, null, { day, ...wish }),
    handOverPdf: async (site, zone, wish) => drawn(site, zone, { ...wish }),
  };
}
