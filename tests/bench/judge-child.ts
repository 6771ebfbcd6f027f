// Judges in a process of its own, as built: the night files of a folder, and a log of 54 hours at one reading a minute.
import { readFileSync } from "node:fs";
import { bodyFromCall } from "#contract/call.ts";
import { entryFromBody } from "#contract/journal.ts";
import { msFromIso } from "#contract/primitives.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { nodeFromBody, zoneFromBody } from "#contract/zone.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { Series, SiteLog } from "#core/zone/site.ts";
import { readNightFile } from "#contract/night-file.ts";
import { answer, ownCpuMs } from "./answer.ts";
import { journalOf, MINUTE_MS, nodeBody, SHEET, SITE, valuesAt, zoneBody, zoneId } from "./site.ts";

const LONG_LOG_H = 54;
const NOW_MS = Date.UTC(2026, 1, 3, 12);

/** One zone with three slab probes and one air sensor; its first coat went down 20 hours ago. */
function longLog(): SiteLog {
  const node = nodeFromBody({ ...nodeBody(0), probes: { slab: {}, "slab.2": {}, "slab.3": {} } });
  const readings = LONG_LOG_H * 60;
  const atMs = Array.from({ length: readings }, (_, at) => NOW_MS - (readings - 1 - at) * MINUTE_MS);
  const series = (quantity: string, value: (atMs: number) => number): Series => ({
    node: node.id,
    quantity,
    atMs,
    values: atMs.map(value),
    heardMs: atMs.map((time) => time + 500),
  });
  return {
    site: SITE.id,
    timezone: SITE.timezone,
    altitudeM: SITE.altitudeM,
    sheets: [sheetFromBody(SHEET)],
    zones: [zoneFromBody(zoneBody(0))],
    nodes: [node],
    journal: journalOf(0, NOW_MS).map((body) => entryFromBody(body, body.id ?? "", msFromIso(body.at))),
    series: [
      series("slab", (time) => valuesAt(0, time).slab),
      series("slab.2", (time) => valuesAt(1, time).slab),
      series("slab.3", (time) => valuesAt(2, time).slab + 0.4),
      series("air", (time) => valuesAt(0, time).air),
      series("rh", (time) => valuesAt(0, time).rh),
    ],
    feeds: [],
  };
}

export interface Timed {
  readonly timesUs: readonly number[];
  readonly cpuUs: number;
}

interface Asked {
  readonly log: SiteLog;
  readonly zone: string;
  readonly atMs: number;
}

/** Judges each and writes the call as JSON, as the server does with every one. */
function timed(asked: readonly Asked[]): Timed {
  const cpuBeforeMs = ownCpuMs();
  const timesUs = asked.map(({ log, zone, atMs }) => {
    const startMs = performance.now();
    JSON.stringify(bodyFromCall(judgeZone(log, zone, atMs).call));
    return (performance.now() - startMs) * 1000;
  });
  return { timesUs, cpuUs: ((ownCpuMs() - cpuBeforeMs) * 1000) / asked.length };
}

answer({
  nights({ files, passes }: { files: readonly string[]; passes: number }): Timed {
    const once = files.flatMap((file) => {
      const night = readNightFile(JSON.parse(readFileSync(file, "utf8")));
      if (!night.ok) throw new Error(`${file} is no night file`);
      const { log, ask } = night.value;
      return ask.map(({ zone, atMs }) => ({ log, zone, atMs }));
    });
    timed(once);
    return timed(Array.from({ length: passes }, () => once).flat());
  },
  long(runs: number): Timed {
    const log = longLog();
    const ask = (run: number): Asked => ({ log, zone: zoneId(0), atMs: NOW_MS - (run % 60) * MINUTE_MS });
    timed(Array.from({ length: Math.min(10, runs) }, (_, run) => ask(run)));
    return timed(Array.from({ length: runs }, (_, run) => ask(run)));
  },
});
