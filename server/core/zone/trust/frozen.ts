// A probe whose number stopped: it repeats itself to the last digit while what it must follow has moved.
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe } from "#core/zone/probes.ts";
import { endOf, type Run, type Spell } from "#core/zone/trust/spell.ts";

const HOUR_MS = 3_600_000;
/** Repeated exactly for so long and so often. Common practice, no source. */
const PLAIN = { stretchMs: 3 * HOUR_MS, repeats: 8 } as const;
/**
 * A probe that has never in its own last day stood still for a third as many readings: its noise is known, and less of a
 * proof is asked for. A day of less than half tells nothing of it. Common practice, no source.
 */
const UNLIKE_ITSELF = { stretchMs: 1.5 * HOUR_MS, repeats: 12, times: 3, dayMs: 24 * HOUR_MS, knownMs: 12 * HOUR_MS };
/**
 * What must have moved meanwhile, by means of an hour so that a cycling heater proves nothing: `plain` is enough for any
 * probe, `unlike` for one that is unlike itself. A heavy slab shows at least a tenth of a slow change of its air over
 * hours, several steps of the coarsest probe; air that warms by 4 K with the same water in it loses a fifth of its
 * humidity. Common practice, no source.
 */
const PROOF = {
  airForSlabK: { plain: 4, unlike: 1.5 },
  slabBesideK: { plain: 1.5, unlike: 0.5 },
  airBesideK: { plain: 2.5, unlike: 0.8 },
  airForRhK: { plain: 4, unlike: 0.8 },
  rhBesidePct: { plain: 10, unlike: 2.5 },
} as const;
/** A chip at its stop says 100 without being frozen: that has a file of its own. */
const RH_STOP_PCT = 99;

interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}
interface Repeated extends Run, Stretch {
  readonly unlike: boolean;
}

/** The most equal values in a row that end before `first` and not before `fromMs`. */
function longestBefore({ atMs, values }: Track, first: number, fromMs: number): number {
  let longest = 0;
  for (let last = first - 1; last >= 0 && (atMs[last] as number) >= fromMs; ) {
    let begin = last;
    while (begin > 0 && values[begin - 1] === values[last]) begin--;
    longest = Math.max(longest, last - begin + 1);
    last = begin - 1;
  }
  return longest;
}

/** A run of equal values that is looked at covers two places of these that follow each other. */
const EVERY = UNLIKE_ITSELF.repeats / 2;

/** The first place of `EVERY`, from `from` on, whose value stands at the next one too; the end where there is none. */
function likelyRun(values: readonly number[], from: number): number {
  const end = values.length - EVERY;
  let place = Math.ceil(from / EVERY) * EVERY;
  while (place < end && values[place] !== values[place + EVERY]) place += EVERY;
  return place < end ? place : values.length;
}

/** Every stretch of equal values that is long, or long for this probe. A sound probe has none, and is hardly looked at. */
function repeatedOf(track: Track): Repeated[] {
  const { atMs, values } = track;
  const time = (index: number) => atMs[index] as number;
  const long: Repeated[] = [];
  let next = 0;
  for (let place = likelyRun(values, 0); place < values.length; place = likelyRun(values, next)) {
    const value = values[place] as number;
    let first = place;
    while (first > 0 && values[first - 1] === value) first--;
    next = place + 1;
    while (next < values.length && values[next] === value) next++;
    const [last, count] = [next - 1, next - first];
    if (count < UNLIKE_ITSELF.repeats || time(last) - time(first) < UNLIKE_ITSELF.stretchMs) continue;
    const [fromMs, toMs] = [time(first), time(last)];
    const unlike =
      fromMs - time(0) >= UNLIKE_ITSELF.knownMs &&
      count >= UNLIKE_ITSELF.times * longestBefore(track, first, fromMs - UNLIKE_ITSELF.dayMs);
    const isPlain = count >= PLAIN.repeats && toMs - fromMs >= PLAIN.stretchMs;
    if (unlike || isPlain) long.push({ first, last, fromMs, toMs, unlike });
  }
  return long;
}

/** How far the hourly means of a track lie apart within a stretch. */
function movedIn({ atMs, values }: Track, { fromMs, toMs }: Stretch): number {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let startMs = fromMs; startMs < toMs; startMs += HOUR_MS) {
    let sum = 0;
    let count = 0;
    for (let at = lastIndexAt(atMs, startMs) + 1; at < atMs.length && (atMs[at] as number) <= startMs + HOUR_MS; at++) {
      sum += values[at] as number;
      count++;
    }
    if (count === 0) continue;
    lowest = Math.min(lowest, sum / count);
    highest = Math.max(highest, sum / count);
  }
  return highest > lowest ? highest - lowest : 0;
}

interface Proof {
  readonly track: Track;
  readonly least: { readonly plain: number; readonly unlike: number };
}

/** Each stretch with the proof that goes furthest beyond what is asked of it; none where no proof does. */
function frozen(probe: string, track: Track, proofs: readonly Proof[]): Spell[] {
  return repeatedOf(track).flatMap((stretch): Spell[] => {
    let best: Spell | null = null;
    for (const { track: other, least } of proofs) {
      const measured = movedIn(other, stretch);
      const limit = stretch.unlike ? least.unlike : least.plain;
      if (measured >= limit && (best === null || measured / limit > best.measured / best.limit))
        best = { probe, kind: "frozen", sinceMs: stretch.fromMs, untilMs: endOf(track, stretch.last), measured, limit };
    }
    return best === null ? [] : [best];
  });
}

/** A slab probe is held against the air and the other slab probes of its zone. */
export function frozenSlabSpells(probe: SlabProbe, slab: readonly SlabProbe[], chips: readonly AirChip[]): Spell[] {
  return frozen(probe.name, probe.track, [
    ...chips.map((chip) => ({ track: chip.air, least: PROOF.airForSlabK })),
    ...slab.filter((other) => other !== probe).map((other) => ({ track: other.track, least: PROOF.slabBesideK })),
  ]);
}

/** The air of a chip is held against other chips and the slab, its humidity against its own air and other chips. */
export function frozenChipSpells(chip: AirChip, chips: readonly AirChip[], slab: readonly SlabProbe[]): Spell[] {
  const others = chips.filter((other) => other !== chip);
  const air = frozen(chip.name, chip.air, [
    ...others.map((other) => ({ track: other.air, least: PROOF.airBesideK })),
    ...slab.map((probe) => ({ track: probe.track, least: PROOF.airBesideK })),
  ]);
  const rh = frozen(`${chip.node.id}/rh`, chip.rh, [
    { track: chip.air, least: PROOF.airForRhK },
    ...others.map((other) => ({ track: other.rh, least: PROOF.rhBesidePct })),
  ]).filter(({ sinceMs }) => (chip.rh.values[lastIndexAt(chip.rh.atMs, sinceMs)] as number) < RH_STOP_PCT);
  return [...air, ...rh];
}
