// The record's part of a desk kept in memory: one sample record, whatever coat is asked for below two.
import type { CoatRecordBody } from "#contract/record.ts";
import type { Answer, Refusal } from "../../server/http/answer.ts";
import type { RecordsDesk } from "../../server/http/records-port.ts";
import { callsCsv, conditionsCsv } from "../../server/record/csv.ts";
import { SAMPLE_HAND_OVER, sampleDay, sampleRecord } from "./sample-record.ts";

export function fakeRecordsDesk(missing: (site: string, zone: string | null) => Refusal | null): RecordsDesk {
  const good = <T>(value: T): Answer<T> => ({ ok: true, value });
  const coat = (site: string, zone: string, number: number): Answer<CoatRecordBody> => {
    const none: Refusal = {
      ok: false,
      refusal: "missing",
      faults: [{ field: "/coat", reason: "has not been poured" }],
    };
    return missing(site, zone) ?? (number < 2 ? good(sampleRecord()) : none);
  };
  return {
    coats(site, zone) {
      const { site: body, timezone, madeAt, heads } = sampleRecord();
      return missing(site, zone) ?? good({ site: body, timezone, madeAt, zones: [], days: ["2026-02-03"], heads });
    },
    coatRecord: coat,
    coatCsv(site, zone, number, part) {
      const body = coat(site, zone, number);
      return body.ok ? good(part === "calls" ? callsCsv(body.value) : conditionsCsv(body.value)) : body;
    },
    daySummary: (site) => missing(site, null) ?? good(sampleDay()),
    handOver: (site, zone) => missing(site, zone) ?? good(SAMPLE_HAND_OVER),
    exportJob(site) {
      async function* bytes() {
        yield new Uint8Array([80, 75, 5, 6]);
      }
      return missing(site, null) ?? good(bytes());
    },
  };
}
