// Judges in a process of its own, as built: the night files of a folder, and a log of 54 hours at one reading a minute.
import { readFileSync } from "node:fs";
import { bodyFromCall } from "#contract/call.ts";
import { readNightFile } from "#contract/night-file.ts";
import { judgeToLook, judgeZone } from "#core/judge/judge.ts";
import { type Again, lookAgain } from "#core/judge/look-again.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { insertReading } from "../../server/live/live-series.ts";
import { answer, ownCpuMs } from "./answer.ts";
import { type LongLog, longLog, NOW_MS, saidAt } from "./long-log.ts";
import { HOUR_MS, MINUTE_MS, zoneId } from "./site.ts";
import { median } from "./stats.ts";

export interface Timed {
  readonly timesUs: readonly number[];
  readonly cpuUs: number;
  /** What fixed arithmetic took in between: how fast the machine was at the time. */
  readonly paceUs: number;
}

export interface Looked extends Timed {
  /** Packets whose zone had to be judged. */
  readonly anew: number;
}

export interface LooksWish {
  readonly minutes: number;
  readonly warmMinutes: number;
}

interface Asked {
  readonly log: SiteLog;
  readonly zone: string;
  readonly atMs: number;
}

const written = ({ log, zone, atMs }: Asked) => JSON.stringify(bodyFromCall(judgeZone(log, zone, atMs).call));

/** Twenty thousand steps that each wait for the last; the sum is asked for so that they are not left out. */
function arithmetic(): number {
  let sum = 0;
  for (let step = 1; step <= 20_000; step++) sum = sum * 0.999 + step;
  if (!(sum > 0)) throw new Error("the arithmetic of the bench is wrong");
  return sum;
}

function tookUs(work: () => void): number {
  const startMs = performance.now();
  work();
  return (performance.now() - startMs) * 1000;
}

function timed<T>(asked: readonly T[], work: (one: T) => void): Timed {
  const pacesUs: number[] = [];
  let cpuMs = 0;
  const timesUs = asked.map((one) => {
    pacesUs.push(tookUs(arithmetic));
    const cpuBeforeMs = ownCpuMs();
    const passedUs = tookUs(() => work(one));
    cpuMs += ownCpuMs() - cpuBeforeMs;
    return passedUs;
  });
  return { timesUs, cpuUs: (cpuMs * 1000) / asked.length, paceUs: median(pacesUs) };
}

/** The same after half as many that are not: a server judges all day, and code that has just been started runs slower. */
function timedWarm(runs: number, work: (run: number) => void): Timed {
  const warm = Math.ceil(runs / 2);
  for (let run = 0; run < warm; run++) work(run);
  const asked = Array.from({ length: runs }, (_, run) => warm + run);
  return timed(asked, work);
}

/** One more reading of these quantities, as a node's pack brings them. */
function hear(log: LongLog, quantities: readonly string[], atMs: number, heardMs: number): void {
  for (const series of log.series)
    if (quantities.includes(series.quantity)) insertReading(series, atMs, saidAt(series, atMs), heardMs);
}

/** A judging with what is needed to look again; it must come to that. */
function judgedTo(log: LongLog, atMs: number) {
  const { again = null } = judgeToLook(log, zoneId(0), atMs);
  if (again === null) throw new Error("the zone of the bench cannot be looked at again");
  return again;
}

/** What each of three nodes of a zone sends once a minute, one after the other. */
const PACKS = [["slab", "air", "rh"], ["slab.2"], ["slab.3"]];
const ZONES = 10;

/** Every minute each of ten zones is judged, which is not timed, and then looked at with each pack of its three nodes. */
function looks(minutes: number): Looked {
  const zones = Array.from({ length: ZONES }, () => ({ log: longLog(false), again: null as Again | null }));
  const timesUs: number[] = [];
  const pacesUs: number[] = [];
  let anew = 0;
  let cpuMs = 0;
  for (let minute = 0; minute < minutes; minute++) {
    const startMs = NOW_MS + minute * MINUTE_MS;
    for (const zone of zones) zone.again = judgedTo(zone.log, startMs);
    for (const [place, quantities] of PACKS.entries()) {
      const atMs = startMs + (place + 1) * 15_000;
      pacesUs.push(tookUs(arithmetic));
      for (const zone of zones) {
        hear(zone.log, quantities, atMs, atMs);
        const { again, log } = zone;
        if (again === null) continue;
        const cpuBeforeMs = ownCpuMs();
        timesUs.push(tookUs(() => void (zone.again = lookAgain(again, log, atMs))));
        cpuMs += ownCpuMs() - cpuBeforeMs;
        if (zone.again === null) anew++;
      }
    }
  }
  return { timesUs, cpuUs: (cpuMs * 1000) / timesUs.length, paceUs: median(pacesUs), anew };
}

answer({
  nights({ files, passes }: { files: readonly string[]; passes: number }): Timed {
    const once = files.flatMap((file) => {
      const night = readNightFile(JSON.parse(readFileSync(file, "utf8")));
      if (!night.ok) throw new Error(`${file} is no night file`);
      const { log, ask } = night.value;
      return ask.map(({ zone, atMs }) => ({ log, zone, atMs }));
    });
    timed(once, written);
    return timed(Array.from({ length: passes }, () => once).flat(), written);
  },
  long({ runs, outdoors }: { runs: number; outdoors: boolean }): Timed {
    const log = longLog(outdoors);
    return timedWarm(runs, (run) => written({ log, zone: zoneId(0), atMs: NOW_MS - (run % 60) * MINUTE_MS }));
  },
  /** A pack of 48 hours ago lands, and the zone is judged with it. */
  late({ runs, outdoors }: { runs: number; outdoors: boolean }): Timed {
    const log = longLog(outdoors);
    return timedWarm(runs, (run) => {
      const atMs = NOW_MS + run;
      hear(log, PACKS.flat(), NOW_MS - 48 * HOUR_MS + run * MINUTE_MS + 20_000, atMs);
      JSON.stringify(bodyFromCall(judgedTo(log, atMs).call));
    });
  },
  /** First some minutes untimed: each zone is looked at three times a minute, all day. */
  looks({ minutes, warmMinutes }: LooksWish): Looked {
    if (warmMinutes > 0) looks(warmMinutes);
    return looks(minutes);
  },
});
