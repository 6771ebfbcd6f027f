// Neighbours compared: how far every two probes of a zone lie apart, now and over the last day.
import { HOLD_MS } from "#core/zone/cursor.ts";
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { ZoneProbes } from "#core/zone/probes.ts";
import type { ProbePlace } from "#core/zone/site.ts";

const DAY_MS = 24 * 3_600_000;

/** `a` minus `b`: K for slab and air, % RH for humidity; null where the two did not speak together. */
export interface NeighbourPair {
  readonly of: "slab" | "air" | "rh";
  readonly a: string;
  readonly b: string;
  /** null where a place has no coordinates. */
  readonly apartM: number | null;
  readonly now: number | null;
  readonly dayMedian: number | null;
}

interface Side {
  readonly name: string;
  readonly place: ProbePlace | null;
  readonly track: Track;
  readonly sinceMs: number;
}

function apartM(a: ProbePlace | null, b: ProbePlace | null): number | null {
  if (a?.xM === undefined || a.yM === undefined || b?.xM === undefined || b.yM === undefined) return null;
  return Math.hypot(a.xM - b.xM, a.yM - b.yM);
}

function median(values: number[]): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const high = sorted[middle] as number;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] as number) + high) / 2;
}

/** Differences at every reading of `a` of the last day that has one of `b` beside it. */
function compared(of: NeighbourPair["of"], a: Side, b: Side, nowMs: number): NeighbourPair {
  const differences: number[] = [];
  let lastMs = Number.NEGATIVE_INFINITY;
  const fromMs = Math.max(nowMs - DAY_MS, a.sinceMs, b.sinceMs);
  for (let index = lastIndexAt(a.track.atMs, fromMs - 1) + 1; index < a.track.atMs.length; index++) {
    const takenMs = a.track.atMs[index] as number;
    const at = lastIndexAt(b.track.atMs, takenMs);
    const otherMs = b.track.atMs[at];
    if (otherMs === undefined || otherMs < b.sinceMs || takenMs - otherMs > HOLD_MS) continue;
    differences.push((a.track.values[index] as number) - (b.track.values[at] as number));
    lastMs = takenMs;
  }
  const now = nowMs - lastMs <= HOLD_MS ? (differences.at(-1) ?? null) : null;
  return { of, a: a.name, b: b.name, apartM: apartM(a.place, b.place), now, dayMedian: median(differences) };
}

/** Every pair of slab probes and of chips that are in use. */
export function neighbourPairs({ slab, chips }: ZoneProbes, nowMs: number): NeighbourPair[] {
  const never = Number.NEGATIVE_INFINITY;
  const laid: Side[] = slab
    .filter(({ retiredMs }) => retiredMs > nowMs)
    .map(({ name, place, track, movedMs }) => ({ name, place, track, sinceMs: movedMs }));
  const used = chips.filter(({ retiredMs }) => retiredMs > nowMs);
  const air: Side[] = used.map(({ name, node, air: track }) => ({
    ...{ name, track, sinceMs: never },
    place: node.probes?.["air"] ?? null,
  }));
  const rh: Side[] = used.map(({ node, rh: track }) => ({
    ...{ name: `${node.id}/rh`, track, sinceMs: never },
    place: node.probes?.["rh"] ?? node.probes?.["air"] ?? null,
  }));
  const pairs = (of: NeighbourPair["of"], sides: readonly Side[]) =>
    sides.flatMap((a, index) => sides.slice(index + 1).map((b) => compared(of, a, b, nowMs)));
  return [...pairs("slab", laid), ...pairs("air", air), ...pairs("rh", rh)];
}
