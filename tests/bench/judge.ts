// Time of one call: over the night files of the trade, and on a log of 54 hours at one reading a minute.
import { bodyFromCall } from "#contract/call.ts";
import { entryFromBody } from "#contract/journal.ts";
import { msFromIso } from "#contract/primitives.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { nodeFromBody, zoneFromBody } from "#contract/zone.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { Series, SiteLog } from "#core/zone/site.ts";
import { caseFiles, readCase } from "../support/cases.ts";
import { ownCpuMs } from "./child.ts";
import type { Figure } from "./figure.ts";
import { journalOf, MINUTE_MS, nodeBody, SHEET, SITE, valuesAt, zoneBody, zoneId } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

const LONG_LOG_H = 54;
const NOW_MS = Date.UTC(2026, 1, 3, 12);

/** One zone with three slab probes and one air sensor; its first coat went down 20 hours ago. */
export function longLog(): SiteLog {
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

interface Timed {
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

function figure(what: string, { timesUs, cpuUs }: Timed): Figure {
  const [p90, p99] = [0.9, 0.99].map((share) => shown(quantile(timesUs, share)));
  const spread = `p90 ${p90}, p99 ${p99}, mean computing time ${shown(cpuUs)}`;
  return { what, value: median(timesUs), unit: "us", n: timesUs.length, spread, peer: null };
}

export async function measureJudge({ judgePasses, longLogRuns }: Sizes): Promise<Figure[]> {
  const once = caseFiles.map(readCase).flatMap(({ log, ask }) => ask.map(({ zone, atMs }) => ({ log, zone, atMs })));
  timed(once);
  const nights = timed(Array.from({ length: judgePasses }, () => once).flat());
  const log = longLog();
  const ask = (run: number): Asked => ({ log, zone: zoneId(0), atMs: NOW_MS - (run % 60) * MINUTE_MS });
  timed(Array.from({ length: Math.min(10, longLogRuns) }, (_, run) => ask(run)));
  const long = timed(Array.from({ length: longLogRuns }, (_, run) => ask(run)));
  return [
    figure(`call of a zone, ${caseFiles.length} night files`, nights),
    figure(`call of a zone, ${LONG_LOG_H} h at one a minute, 3 probes`, long),
  ];
}
