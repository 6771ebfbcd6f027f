// A node's clock, compared with the order in which its readings arrived.
import type { Moment } from "#core/zone/heard.ts";
import type { Series } from "#core/zone/site.ts";
import { upperIndex } from "#core/zone/heard.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** A reading taken this long after it was heard: the node's clock runs ahead. */
const AHEAD_MS = 2 * 60_000;
/** No packet of the last hours came sooner than this after its newest reading: the clock is behind. */
const BEHIND_MS = 10 * 60_000;
const LOOK_BACK_MS = 3 * 3_600_000;
/** Bursts needed before lateness is blamed on the clock: one late burst is only a bad link. */
const PACKETS = 6;

/** Packets heard within this of each other are one burst: a buffer that empties itself tells nothing of the clock. */
const BURST_MS = 60_000;

/**
 * Least lateness of each burst of packets heard in the look-back. Looking back with hindsight, the bursts are those
 * of the time of looking: that a past was heard late says nothing against the clock that stamped it.
 */
function latenessOf(series: Series, moment: Moment): number[] {
  const newest = new Map<number, number>();
  const end = upperIndex(series.atMs, Math.max(moment.nowMs, moment.heardByMs) + LOOK_BACK_MS);
  for (let index = end - 1; index >= 0 && index >= end - 600; index--) {
    const heardMs = series.heardMs[index] as number;
    if (heardMs > moment.heardByMs || heardMs < moment.heardByMs - LOOK_BACK_MS) continue;
    newest.set(heardMs, Math.max(newest.get(heardMs) ?? Number.NEGATIVE_INFINITY, series.atMs[index] as number));
  }
  const least: number[] = [];
  let lastMs = Number.NEGATIVE_INFINITY;
  for (const [heardMs, atMs] of [...newest].sort((a, b) => a[0] - b[0])) {
    const lateMs = heardMs - atMs;
    if (heardMs - lastMs <= BURST_MS && least.length > 0) least.push(Math.min(least.pop() as number, lateMs));
    else least.push(lateMs);
    lastMs = heardMs;
  }
  return least;
}

/** A doubt per node whose clock cannot be right, named by its first series. */
export function clockDoubts(series: readonly Series[], moment: Moment): Doubt[] {
  const byNode = new Map<string, Series>();
  for (const item of series) if (!byNode.has(item.node)) byNode.set(item.node, item);
  const doubts: Doubt[] = [];
  for (const [node, item] of byNode) {
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
