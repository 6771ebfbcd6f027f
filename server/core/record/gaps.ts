// Stretches without evidence: between two readings of slab or of air that lie further apart than a reading speaks.
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

export interface Gap {
  readonly fromMs: number;
  readonly toMs: number;
  readonly reason: "nothing" | "no-slab" | "no-air" | "server-off";
}

interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Where a column was not known for longer than a reading speaks, from the last reading to the next. */
function silences(line: Timeline, column: Float64Array, fromMs: number, toMs: number): Stretch[] {
  const gaps: Stretch[] = [];
  let lastMs = fromMs;
  for (let index = 0; index < line.readings; index++) {
    const atMs = line.atMs[index] as number;
    if (atMs > toMs) break;
    if (Number.isNaN(column[index] as number)) continue;
    if (atMs > fromMs && atMs - lastMs > HOLD_MS) gaps.push({ fromMs: lastMs, toMs: atMs });
    lastMs = Math.max(fromMs, atMs);
  }
  if (toMs - lastMs > HOLD_MS) gaps.push({ fromMs: lastMs, toMs });
  return gaps;
}

/** Gaps of slab and of air between `fromMs` and `toMs`; where both were silent, it is one gap of nothing. */
export function gapsOf(line: Timeline, fromMs: number, toMs: number): Gap[] {
  const slab = silences(line, line.slabColdC, fromMs, toMs);
  const air = silences(line, line.dewPointC, fromMs, toMs);
  const edges = [...new Set([...slab, ...air].flatMap((gap) => [gap.fromMs, gap.toMs]))].sort((a, b) => a - b);
  const within = (gaps: readonly Stretch[], atMs: number) => gaps.some((gap) => gap.fromMs <= atMs && atMs < gap.toMs);
  const out: Gap[] = [];
  for (const [index, startMs] of edges.entries()) {
    const endMs = edges[index + 1];
    if (endMs === undefined) break;
    const noSlab = within(slab, startMs);
    const noAir = within(air, startMs);
    if (!noSlab && !noAir) continue;
    const reason = noSlab && noAir ? "nothing" : noSlab ? "no-slab" : "no-air";
    const last = out.at(-1);
    if (last?.reason === reason && last.toMs === startMs) out.splice(-1, 1, { ...last, toMs: endMs });
    else out.push({ fromMs: startMs, toMs: endMs, reason });
  }
  return out;
}

/** Where the server was not there to hear, within the stretch. Readings may have come later all the same. */
export function offlineOf(
  runs: readonly { readonly startedMs: number; readonly aliveMs: number }[],
  fromMs: number,
  toMs: number,
): Gap[] {
  const out: Gap[] = [];
  let atMs = fromMs;
  for (const run of [...runs].sort((a, b) => a.startedMs - b.startedMs)) {
    if (run.startedMs - atMs > RESTART_MS)
      out.push({ fromMs: atMs, toMs: Math.min(run.startedMs, toMs), reason: "server-off" });
    atMs = Math.max(atMs, run.aliveMs);
    if (atMs >= toMs) return out;
  }
  if (toMs - atMs > RESTART_MS) out.push({ fromMs: atMs, toMs, reason: "server-off" });
  return out;
}

/** A shorter pause is a restart. */
const RESTART_MS = 2 * 60_000;
