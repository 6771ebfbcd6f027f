// How fast a probe rises: the slope of a straight line through the last 90 minutes.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";

export const SLOPE_SPAN_MS = 90 * 60_000;
const LEAST_SPAN_MS = 45 * 60_000;
const LEAST_POINTS = 3;

/** Slopes by the place of their probe, each with the track that it is of: a probe that says nothing new keeps its slope. */
export type Slopes = ({ readonly track: Track; readonly kPerH: number | null } | undefined)[];

/**
 * The same as `slopeKPerH` of the probe at a place. `slopes` are those known already, of probes that were laid where they are
 * now, and take in what is reckoned here.
 */
export function slopeAt(slopes: Slopes, place: number, track: Track, nowMs: number, sinceMs: number): number | null {
  const known = slopes[place];
  if (known?.track !== track) {
    const kPerH = slopeKPerH(track, nowMs, sinceMs);
    slopes[place] = { track, kPerH };
    return kPerH;
  }
  return endsWithin(track, nowMs) ? known.kPerH : null;
}

const endsWithin = ({ atMs }: Track, nowMs: number) => nowMs - (atMs[atMs.length - 1] as number) <= SLOPE_SPAN_MS;

/**
 * Least-squares slope over the 90 min up to the last reading, K per hour; null with too few readings. A probe that fell
 * silent keeps its slope as long as the span: its silence must not end a rise.
 */
export function slopeKPerH(track: Track, nowMs: number, sinceMs = Number.NEGATIVE_INFINITY): number | null {
  const end = track.atMs.length;
  const lastMs = track.atMs[end - 1];
  if (lastMs === undefined || !endsWithin(track, nowMs)) return null;
  const start = lastIndexAt(track.atMs, Math.max(lastMs - SLOPE_SPAN_MS, sinceMs) - 1) + 1;
  const count = end - start;
  const firstMs = track.atMs[start] ?? lastMs;
  if (count < LEAST_POINTS || lastMs - firstMs < LEAST_SPAN_MS) return null;
  let sumT = 0;
  let sumV = 0;
  for (let index = start; index < end; index++) {
    sumT += (track.atMs[index] as number) - firstMs;
    sumV += track.values[index] as number;
  }
  const meanT = sumT / count;
  const meanV = sumV / count;
  let over = 0;
  let under = 0;
  for (let index = start; index < end; index++) {
    const dt = (track.atMs[index] as number) - firstMs - meanT;
    over += dt * ((track.values[index] as number) - meanV);
    under += dt * dt;
  }
  return under > 0 ? (over / under) * 3_600_000 : null;
}
