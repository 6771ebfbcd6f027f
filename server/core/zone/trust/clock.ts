// A node's clock, compared with the order in which its readings arrived.
import type { Moment } from "#core/zone/heard.ts";
import type { LogSeries } from "#core/zone/site.ts";
import { upperPlace } from "#core/zone/heard.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";
import { runsOf, type Spell } from "#core/zone/trust/spell.ts";

/** A reading taken this long after it was heard: the node's clock runs ahead. */
const AHEAD_MS = 2 * 60_000;
/** No packet of the last hours came sooner than this after its newest reading: the clock is behind. */
const BEHIND_MS = 10 * 60_000;
const LOOK_BACK_MS = 3 * 3_600_000;
/** Bursts needed before lateness is blamed on the clock: one late burst is only a bad link. */
const PACKETS = 6;
/** A clock that is behind is always behind by as much; a buffer that empties itself catches up. */
const STEADY_MS = 2 * 60_000;

/** Packets heard within this of each other are one burst: a buffer that empties itself tells nothing of the clock. */
const BURST_MS = 60_000;

interface Burst {
  readonly heardMs: number;
  /** Least lateness of its packets. */
  readonly lateMs: number;
  /** Stamps of its oldest and newest reading. */
  readonly fromMs: number;
  readonly toMs: number;
}

interface Heard {
  readonly heardMs: number;
  readonly atMs: number;
}

/** What was heard, in the order of hearing: nearly always the order in which it stands. */
function inOrderOfHearing(series: LogSeries, first: number, end: number, fromMs: number, heardByMs: number): Heard[] {
  const heard: Heard[] = [];
  let ordered = true;
  let lastMs = Number.NEGATIVE_INFINITY;
  const takenMs = series.atMs.slice(first, end);
  for (const [index, heardMs] of series.heardMs.slice(first, end).entries()) {
    if (heardMs > heardByMs || heardMs < fromMs) continue;
    ordered &&= heardMs >= lastMs;
    lastMs = heardMs;
    heard.push({ heardMs, atMs: takenMs[index] as number });
  }
  return ordered ? heard : heard.sort((a, b) => a.heardMs - b.heardMs);
}

/** How many bursts these make at most, whatever else was heard with them: they are told apart by the time between. */
function mostBursts(heardMs: readonly number[]): number {
  let bursts = 0;
  let lastMs = Number.NEGATIVE_INFINITY;
  for (const atMs of [...heardMs].sort((a, b) => a - b)) {
    if (atMs - lastMs > BURST_MS) bursts++;
    lastMs = atMs;
  }
  return bursts;
}

/** Packets in the order in which they were heard, those that came together as one. */
function burstsOf(series: LogSeries, first: number, end: number, fromMs: number, heardByMs: number): Burst[] {
  const bursts: Burst[] = [];
  let burst: { -readonly [K in keyof Burst]: Burst[K] } | null = null;
  for (const { heardMs, atMs } of inOrderOfHearing(series, first, end, fromMs, heardByMs)) {
    if (burst === null || heardMs - burst.heardMs > BURST_MS) {
      burst = { heardMs, lateMs: heardMs - atMs, fromMs: atMs, toMs: atMs };
      bursts.push(burst);
      continue;
    }
    burst.heardMs = heardMs;
    burst.lateMs = Math.min(burst.lateMs, heardMs - atMs);
    burst.fromMs = Math.min(burst.fromMs, atMs);
    burst.toMs = Math.max(burst.toMs, atMs);
  }
  return bursts;
}

/**
 * Least lateness of each burst of packets heard in the look-back. Looking back with hindsight, the bursts are those
 * of the time of looking: that a past was heard late says nothing against the clock that stamped it.
 */
function latenessOf(series: LogSeries, moment: Moment): number[] {
  const end = upperPlace(series.atMs, Math.max(moment.nowMs, moment.heardByMs) + LOOK_BACK_MS);
  const fromMs = moment.heardByMs - LOOK_BACK_MS;
  return burstsOf(series, Math.max(0, end - 600), end, fromMs, moment.heardByMs).map(({ lateMs }) => lateMs);
}

function firstOfNodes(series: readonly LogSeries[]): ReadonlyMap<string, LogSeries> {
  const byNode = new Map<string, LogSeries>();
  for (const item of series) if (!byNode.has(item.node)) byNode.set(item.node, item);
  return byNode;
}

/** A doubt per node whose clock cannot be right, named by its first series. */
export function clockDoubts(series: readonly LogSeries[], moment: Moment): Doubt[] {
  const doubts: Doubt[] = [];
  for (const [node, item] of firstOfNodes(series)) {
    const lateMs = latenessOf(item, moment);
    if (lateMs.length === 0) continue;
    const least = Math.min(...lateMs);
    const probe = `${node}/${item.quantity}`;
    const sinceMs = moment.nowMs;
    if (least < -AHEAD_MS)
      doubts.push({ probe, kind: "clock", sinceMs, measured: least / 1000, limit: -AHEAD_MS / 1000 });
    else if (lateMs.length >= PACKETS && least > BEHIND_MS) {
      doubts.push({ probe, kind: "clock", sinceMs, measured: least / 1000, limit: BEHIND_MS / 1000 });
    }
  }
  return doubts;
}

/** Stretches of the past, by their stamps, in which a node's readings were stamped by a clock that was steadily behind. */
export function clockSpells(series: readonly LogSeries[], moment: Moment, fromMs: number): Spell[] {
  return [...firstOfNodes(series)].flatMap(([node, item]) => {
    const first = upperPlace(item.atMs, fromMs - 1);
    const end = upperPlace(item.atMs, moment.nowMs);
    const takenMs = item.atMs.slice(first, end);
    const isLate = (heardMs: number, index: number) => heardMs - (takenMs[index] as number) > BEHIND_MS;
    // A buffer that emptied itself is a burst or two: no need to put a whole past in the order of hearing.
    if (mostBursts(item.heardMs.slice(first, end).filter(isLate)) < PACKETS) return [];
    const bursts = burstsOf(item, first, end, fromMs, moment.heardByMs);
    const steady = (index: number) => {
      const [one, before] = [bursts[index] as Burst, bursts[index - 1]];
      return before !== undefined && before.lateMs > BEHIND_MS && Math.abs(one.lateMs - before.lateMs) <= STEADY_MS;
    };
    const behind = (index: number) =>
      (bursts[index] as Burst).lateMs > BEHIND_MS &&
      (steady(index) || (index + 1 < bursts.length && steady(index + 1)));
    return runsOf(bursts.length, behind).flatMap((run): Spell[] => {
      if (run.last - run.first + 1 < PACKETS) return [];
      const of = bursts.slice(run.first, run.last + 1);
      return [
        {
          probe: `${node}/${item.quantity}`,
          kind: "clock",
          sinceMs: Math.min(...of.map((burst) => burst.fromMs)),
          untilMs: Math.max(...of.map((burst) => burst.toMs)),
          measured: Math.min(...of.map((burst) => burst.lateMs)) / 1000,
          limit: BEHIND_MS / 1000,
        },
      ];
    });
  });
}
