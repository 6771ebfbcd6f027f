// How many sites of 12 zones and 36 nodes one machine carries: the load is doubled until the slowest packets take too long, then halved in.
import { crowdedFolder } from "./crowd-folder.ts";
import type { Figure } from "./figure.ts";
import { type Carried, carry, type Counters, NODES_PER_ZONE } from "./load.ts";
import { MINUTE_MS } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { quantile, shown } from "./stats.ts";

const ZONES = 12;
const HISTORY_H = 50;
const STEP_MS = 10 * MINUTE_MS;
const TOO_SLOW_MS = 2000;
/** The point is found when what is carried and what is too much are no further apart than this. */
const NEAR = 1.2;
/** A thread that computes this share of the time has nothing left. */
const FULL_SHARE = 0.9;

/** What waits, else what the one thread did with its time. */
function fullestOf({ queueLanding = 0, queueJudge = 0 }: Counters, zones: number, share: number): string {
  if (queueLanding > zones) return `landing: ${queueLanding} messages wait`;
  if (queueJudge > zones / 10) return `judging: ${queueJudge} turns of ${zones} zones wait`;
  if (share >= FULL_SHARE) return "the one thread: it computes all the time, and its queues are empty after";
  return "no queue: single turns hold the thread";
}

const p99 = (timesMs: readonly number[]) => quantile(timesMs, 0.99);
const slowest = ({ looksMs, callsMs }: Carried) => Math.max(p99(looksMs), p99(callsMs));

function figuresOf(sites: number, zones: number, times: number, carried: Carried): Figure[] {
  const { looksMs, callsMs, counted, waiting, tookS, share } = carried;
  const load = `load of ${sites} sites of ${ZONES} zones and ${ZONES * NODES_PER_ZONE} nodes`;
  const perS = (name: string) => shown((counted[name] ?? 0) / tookS);
  const { queueLanding = 0, queueJudge = 0 } = waiting;
  return [
    {
      what: `packet to its call, where a look is not enough, ${load}, p99`,
      ...{ value: p99(callsMs), unit: "ms", n: callsMs.length, peer: null },
      spread: [
        `p50 ${shown(quantile(callsMs, 0.5))}; ${shown(share * 100)} % of a core`,
        `a second: ${perS("messages")} packs, ${perS("judged")} zones judged whole, ${perS("looked")} looked at, ${perS("callsChanged")} calls changed`,
        `each zone ${shown((counted["judged"] ?? 0) / zones)} times in ${shown((tookS * times) / 60)} of its minutes`,
        `waiting: ${queueLanding} to land, ${queueJudge} to judge`,
      ].join("; "),
    },
    {
      what: `packet to its conditions, ${load}, p99`,
      ...{ value: p99(looksMs), unit: "ms", n: looksMs.length, peer: null },
      spread: `p50 ${shown(quantile(looksMs, 0.5))}`,
    },
  ];
}

/**
 * The load is that of more sites: the same zones with a clock that goes faster, so that a step holds a round of the minute.
 * What more sites would hold in memory, and what their boards would be, is not in it.
 */
export async function measureCapacity(sizes: Sizes): Promise<Figure[]> {
  const { capacitySites, siteBegin, watchMs, capacityWithinMs } = sizes;
  const startMs = performance.now();
  const zones = capacitySites * ZONES;
  const crowd = { zones, nodesPerZone: NODES_PER_ZONE, historyH: HISTORY_H, stepMs: STEP_MS, watched: true };
  const folder = await crowdedFolder(crowd);
  const curve = new Map<number, Figure[]>();
  const leapt = new Map<number, number>();
  let fromMs = Date.now();
  let most = 0;
  let tooMany = Number.POSITIVE_INFINITY;
  let why = "";
  try {
    let sites = siteBegin;
    while (tooMany > NEAR * Math.max(1, most)) {
      if (curve.size > 0 && performance.now() - startMs > capacityWithinMs) break;
      const times = sites / capacitySites;
      const carried = await carry({ data: folder.path, zones, times, fromMs, watchMs, leapt });
      fromMs = carried.siteMs;
      curve.set(sites, figuresOf(sites, zones, times, carried));
      if (slowest(carried) > TOO_SLOW_MS) {
        tooMany = sites;
        const first = p99(carried.callsMs) > TOO_SLOW_MS ? "calls" : "conditions";
        why = `; with ${sites} ${first} come late: ${fullestOf(carried.waiting, zones, carried.share)}`;
      } else most = sites;
      sites = tooMany === Number.POSITIVE_INFINITY ? 2 * most : Math.round((most + tooMany) / 2);
    }
  } finally {
    await folder.remove();
  }
  const point = tooMany === Number.POSITIVE_INFINITY ? "more were not tried" : `${tooMany} were too many${why}`;
  return [
    ...[...curve].sort(([a], [b]) => a - b).flatMap(([, figures]) => figures),
    {
      what: `load of sites of ${ZONES} zones and ${ZONES * NODES_PER_ZONE} nodes on one server, p99 of both within 2 s`,
      ...{ value: most, unit: "sites", n: curve.size, peer: null },
      spread: `${point}; made with ${capacitySites} sites and a faster clock, their past a reading in ten minutes`,
    },
  ];
}
