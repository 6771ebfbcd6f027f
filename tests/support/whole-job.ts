// A whole job in a data folder: a golden night lived through as a server does, with late packets, a gap, an override and batches.
import { readFileSync } from "node:fs";
import { bodyFromCall, type CallBody } from "#contract/call.ts";
import { bodyFromEntry } from "#contract/journal.ts";
import { readNightFile } from "#contract/night-file.ts";
import type { NightFileBody } from "#contract/night-file.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { PlainLog } from "#core/zone/site.ts";
import { isChanged } from "../../server/pipeline-changes.ts";
import { openStore } from "../../server/store/store.ts";
import { expect } from "vitest";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const NIGHT = new URL("../golden/nights/top-06.json", import.meta.url);

export interface WholeJob {
  readonly site: string;
  readonly zone: string;
  readonly log: PlainLog;
  readonly fromMs: number;
  readonly toMs: number;
  readonly shown: readonly CallBody[];
  readonly gap: { readonly fromMs: number; readonly toMs: number };
}

/** Packets of these hours came two and a half hours late; those of that hour and a half never came. */
function weathered(log: PlainLog, lateMs: number, gapMs: number): PlainLog {
  return {
    ...log,
    series: log.series.map((series) => {
      const kept = series.atMs
        .map((_, index) => index)
        .filter((index) => {
          const atMs = series.atMs[index] as number;
          return atMs < gapMs || atMs >= gapMs + 1.5 * HOUR;
        });
      return {
        ...series,
        atMs: kept.map((index) => series.atMs[index] as number),
        values: kept.map((index) => series.values[index] as number),
        heardMs: kept.map((index) => {
          const atMs = series.atMs[index] as number;
          return atMs >= lateMs && atMs < lateMs + 2 * HOUR
            ? lateMs + 2.5 * HOUR
            : Math.max(atMs, series.heardMs[index] as number);
        }),
      };
    }),
  };
}

/** Lives through the job step by step: what was heard goes to the store, the zone is judged, a changed call is recorded. */
export function liveWholeJob(folder: string, everyMs = 30 * MINUTE): WholeJob {
  const body = JSON.parse(readFileSync(NIGHT, "utf8")) as NightFileBody;
  const night = readNightFile(body);
  if (!night.ok) expect.fail(JSON.stringify(night.faults));
  const zone = body.zones[0]?.id ?? "";
  const pours = night.value.log.journal.flatMap((entry) => (entry.did === "poured" ? [entry] : []));
  const firstMs = pours[0]?.fromMs ?? 0;
  const lastMs = pours.at(-1)?.toMs ?? 0;
  const fromMs = firstMs - 6 * HOUR;
  const toMs = lastMs + 16 * HOUR;
  const gap = { fromMs: lastMs + 4 * HOUR, toMs: lastMs + 5.5 * HOUR };
  const log = weathered(night.value.log, firstMs + 2 * HOUR, gap.fromMs);
  const said = (id: string, atMs: number, more: object) =>
    ({ id, zone, by: "I. Marrow", atMs, heardMs: atMs + 2 * MINUTE, ...more }) as JournalEntry;
  const entries: JournalEntry[] = [
    ...log.journal.map((entry): JournalEntry => {
      const heard = { ...entry, heardMs: Math.max(entry.atMs, entry.heardMs) + MINUTE };
      if (heard.did !== "poured") return heard;
      return {
        ...heard,
        product: "two-part resin, grey",
        batches: [{ part: "A", number: "K7-114" }],
        people: ["I. Marrow"],
      };
    }),
    said("m-1", firstMs - HOUR, { did: "measured", slabC: 12.5, airC: 14, rhPct: 55, instrument: "meter 4" }),
    said("o-1", pours.at(-1)?.fromMs ?? 0, { did: "overrode", call: "pour", why: "tarps are up, the crew stays" }),
    said("v-1", firstMs, { did: "ventilated", on: true, how: "one fan" }),
    said("x-1", lastMs + HOUR, { did: "inspected", surface: "greasy" }),
    said("x-2", lastMs + 2 * HOUR, { did: "undone", undoes: "x-1", why: "it was the other floor" }),
  ].sort((a, b) => a.heardMs - b.heardMs);
  const store = openStore(folder);
  const early = Math.min(...log.series.map(({ atMs }) => atMs[0] ?? fromMs)) - HOUR;
  store.records.putSite(body.site, early);
  for (const sheet of body.sheets) store.records.putSheet(sheet, early);
  for (const one of body.zones) store.records.putZone(body.site.id, one, early);
  for (const node of body.nodes) store.records.putNode(body.site.id, node, early);
  store.runs.begin(early);
  const readings = log.series
    .flatMap(({ node, quantity, atMs, values, heardMs }) =>
      atMs.map((at, index) => ({
        site: body.site.id,
        node,
        quantity,
        atMs: at,
        value: values[index] as number,
        heardMs: heardMs[index] as number,
      })),
    )
    .sort((a, b) => a.heardMs - b.heardMs);
  const shown: CallBody[] = [];
  let read = 0;
  let told = 0;
  for (let nowMs = fromMs; nowMs <= toMs; nowMs += everyMs) {
    const batch: (typeof readings)[number][] = [];
    while (read < readings.length && (readings[read]?.heardMs ?? 0) <= nowMs)
      batch.push(readings[read++] as (typeof readings)[number]);
    store.together(() => store.readings.append(batch));
    while (told < entries.length && (entries[told]?.heardMs ?? 0) <= nowMs) {
      const entry = entries[told++] as JournalEntry;
      expect(store.journal.append(body.site.id, entry), JSON.stringify(bodyFromEntry(entry))).toBe("stored");
    }
    const call = bodyFromCall(judgeZone({ ...log, journal: entries }, zone, nowMs).call);
    if (!isChanged(shown.at(-1) ?? null, call)) continue;
    store.calls.append(body.site.id, call);
    shown.push(call);
  }
  store.runs.alive(toMs);
  store.close();
  return { site: body.site.id, zone, log: { ...log, journal: entries }, fromMs, toMs, shown, gap };
}
