// Lines of a chart without their gaps: what was not heard is not drawn, however short the way across would be.

export interface Segment {
  readonly atMs: readonly number[];
  readonly values: readonly number[];
}
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Longer than this nothing is joined, whether or not somebody named it a gap, ms. */
const LONGEST_JOIN_MS = 30 * 60_000;
/** Within a named gap not even this, ms: beside one, readings of the other kind go on. */
const JOIN_IN_GAP_MS = 10 * 60_000;

/** Runs of values that were heard one after the other. A null ends a run. */
export function segmentsOf(
  atMs: readonly number[],
  values: readonly (number | null)[],
  gaps: readonly Stretch[],
  fromMs: number,
  toMs: number,
): Segment[] {
  const segments: { atMs: number[]; values: number[] }[] = [];
  let open: { atMs: number[]; values: number[] } | null = null;
  let lastMs = Number.NEGATIVE_INFINITY;
  for (const [index, at] of atMs.entries()) {
    const value = values[index];
    if (at < fromMs || at > toMs || value === null || value === undefined || !Number.isFinite(value)) {
      open = null;
      continue;
    }
    const stepMs = at - lastMs;
    const inGap = stepMs > JOIN_IN_GAP_MS && gaps.some((gap) => gap.fromMs < at && gap.toMs > lastMs);
    if (open === null || stepMs > LONGEST_JOIN_MS || inGap) {
      open = { atMs: [], values: [] };
      segments.push(open);
    }
    open.atMs.push(at);
    open.values.push(value);
    lastMs = at;
  }
  return segments;
}

/** At most four points a step (first, lowest, highest, last): no peak is lost, and ten thousand readings stay a line. */
export function thinned({ atMs, values }: Segment, stepMs: number): Segment {
  const keep = new Set<number>();
  for (let begin = 0; begin < atMs.length; ) {
    const step = Math.floor((atMs[begin] as number) / stepMs);
    let end = begin;
    let low = begin;
    let high = begin;
    while (end < atMs.length && Math.floor((atMs[end] as number) / stepMs) === step) {
      if ((values[end] as number) < (values[low] as number)) low = end;
      if ((values[end] as number) > (values[high] as number)) high = end;
      end += 1;
    }
    for (const index of [begin, low, high, end - 1]) keep.add(index);
    begin = end;
  }
  const kept = [...keep].sort((a, b) => a - b);
  return { atMs: kept.map((index) => atMs[index] as number), values: kept.map((index) => values[index] as number) };
}
