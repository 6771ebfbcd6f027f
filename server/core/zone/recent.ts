// What a zone's probes said last, so that it can be looked at again without folding its whole past.
import { upperIndex, lastIndexAt, type Track, upperPlace } from "#core/zone/heard.ts";
import {
  type AirChip,
  besidePack,
  dewPointBeside,
  isPossible,
  isSlab,
  LEAST_PCT,
  type SlabProbe,
} from "#core/zone/probes.ts";
import { baggedOf } from "#core/zone/salt-check.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { LogSeries } from "#core/zone/site.ts";
import { SLOPE_SPAN_MS, type Slopes } from "#core/zone/slope.ts";
import { speaksWithin, type ZoneState } from "#core/zone/state.ts";
import { noVotes, timelineOf, type Voices, type Votes } from "#core/zone/timeline.ts";

/** A reading that lies further back than this when a zone is looked at may change more than the present. */
export const BACK_MS = 5 * 60_000;
/** A reading further than this from what its probe said at the judging is for trust to look at. Ours: half of a leap there. */
const DEPARTS = { slab: 0.5, air: 1, rh: 5 } as const;

type Kind = keyof typeof DEPARTS;

/** One series of a zone, and how much of it has been seen. */
interface Watched {
  readonly series: LogSeries;
  readonly kind: Kind;
  /** Place of its probe or chip among the voices; -1 where it has none. */
  readonly place: number;
  /** Said nothing that counted: if it speaks now, trust must look. */
  readonly mute: boolean;
  /** Index, time and value of the last reading that was seen; -1 and NaN where there is none. */
  readonly seen: number;
  readonly seenMs: number;
  readonly firstMs: number;
  /** What it said when the zone was judged. */
  readonly judged: number;
}

export interface Recent {
  /** Tracks reach as far back as present conditions do; `said` tells only when a probe began. */
  readonly voices: Voices;
  /** Places of the probes and chips that may speak. */
  readonly slab: readonly number[];
  readonly chips: readonly number[];
  readonly votes: Votes;
  /** By the places of the probes. */
  readonly slopes: Slopes;
  readonly watched: readonly Watched[];
}

/** The end of a track from the last reading not after `fromMs`. */
function tail(track: Track, fromMs: number): Track {
  const start = Math.max(0, Math.min(lastIndexAt(track.atMs, fromMs), track.atMs.length - 1));
  return { ...track, atMs: track.atMs.slice(start), values: track.values.slice(start) };
}

/** A chip as it is kept, with what it said from `fromMs` on. */
function shortChip(chip: AirChip, fromMs: number): AirChip {
  const air = tail(chip.air, fromMs);
  const rh = besidePack(tail(chip.rh, fromMs), air);
  return { ...chip, air, rh, dew: null, dewPoint: besidePack(tail(chip.dewPoint, fromMs), rh) };
}

const lastMsOf = ({ atMs }: Track): number => atMs[atMs.length - 1] ?? Number.NEGATIVE_INFINITY;
const chipSpeaks = ({ dewPoint }: AirChip, nowMs: number, ageMs: number) => nowMs - lastMsOf(dewPoint) <= ageMs;

function shortSlab(probe: SlabProbe): SlabProbe {
  const { track, said } = probe;
  const began = { ...said, atMs: said.atMs.slice(0, 1), values: said.values.slice(0, 1) };
  return { ...probe, track: tail(track, lastMsOf(track) - SLOPE_SPAN_MS), said: began };
}

/** What must be kept of a state. The log must hold nothing that had not been heard at its moment. */
export function recentOf(state: ZoneState): Recent {
  const { record, probes, zone, staleAfterMs } = state;
  const { nowMs } = state.moment;
  const { voices } = state.trust;
  const inUse = (one: SlabProbe | AirChip) => one.retiredMs > nowMs;
  const slab = voices.slab.flatMap((probe, place) =>
    inUse(probe) && !voices.quarantinedSlab.has(probe.name) && speaksWithin(probe, nowMs, staleAfterMs) ? [place] : [],
  );
  const bagged = (chip: AirChip) => baggedOf(record, chip.node.id).some(({ toMs }) => toMs > nowMs);
  const chips = voices.chips.flatMap((chip, place) =>
    inUse(chip) && !voices.quarantinedChips.has(chip.name) && chipSpeaks(chip, nowMs, staleAfterMs) ? [place] : [],
  );
  const votes = noVotes();
  const speak = (all: readonly (SlabProbe | AirChip)[], places: readonly number[]) =>
    all.every((one, place) => places.includes(place) || !inUse(one));
  if (!speak(voices.slab, slab) || !speak(voices.chips, chips)) timelineOf(voices, nowMs, nowMs, votes);
  const airFromMs = nowMs - BACK_MS - HOLD_MS;
  const watched = probes.series.flatMap((series): Watched[] => {
    const { node, quantity } = series;
    const kind = isSlab(quantity) ? "slab" : quantity === "air" || quantity === "rh" ? quantity : null;
    if (kind === null) return [];
    const name = `${node}/${quantity}`;
    // Another part of a zone that was split hears this probe.
    if (kind === "slab" && zone.probes !== null && !zone.probes.includes(name)) return [];
    const all = kind === "slab" ? voices.slab : voices.chips;
    const place = all.findIndex((one) => (kind === "slab" ? one.name === name : one.node.id === node));
    const one = all[place];
    const speaks = one !== undefined && (!inUse(one) || (kind === "slab" ? slab : chips).includes(place));
    const seen = upperPlace(series.atMs, nowMs) - 1;
    return [
      {
        series,
        kind,
        place,
        mute: !speaks || seen < 0 || (kind !== "slab" && bagged(one as AirChip)),
        seen,
        seenMs: seen < 0 ? Number.NaN : (series.atMs.at(seen) as number),
        firstMs: series.atMs.at(0) ?? Number.NaN,
        judged: seen < 0 ? Number.NaN : (series.values.at(seen) as number),
      },
    ];
  });
  const slabs = voices.slab.map(shortSlab);
  return {
    voices: {
      ...voices,
      slab: slabs,
      chips: voices.chips.map((chip) => shortChip(chip, airFromMs)),
      wet: [],
    },
    slab,
    chips,
    votes,
    // Each is that of what is kept of its track as well: all that a slope is made of.
    slopes: slabs.map(({ track }, place) => state.slopes[place] && { track, kPerH: state.slopes[place].kPerH }),
    watched,
  };
}

const longer = (track: Track, atMs: readonly number[], values: readonly number[]): Track => ({
  ...track,
  // Arrays of plain numbers stay such when they are joined, not when they are spread.
  atMs: track.atMs.concat(atMs),
  values: track.values.concat(values),
});

/** Where what is new of a series ends; -1 where the whole zone must be judged. */
function newEndOf(watched: Watched, nowMs: number, judgedMs: number, holdMs: number): number {
  const { series, kind, seen, mute, seenMs, judged } = watched;
  const { atMs, values, heardMs } = series;
  // Something entered or left before what was seen.
  if (seen >= 0 && (atMs.at(seen) !== seenMs || atMs.at(0) !== watched.firstMs)) return -1;
  const end = atMs.length;
  let next = seen + 1;
  let beforeMs = seenMs;
  for (; next < end; next++) {
    const takenMs = atMs.at(next) as number;
    if (takenMs > nowMs) break;
    const value = values.at(next) as number;
    if (mute || (heardMs.at(next) as number) > nowMs) return -1;
    if (takenMs < judgedMs - BACK_MS || takenMs - beforeMs > holdMs) return -1;
    if (!isPossible(series.quantity, value) || (kind === "rh" && value < LEAST_PCT)) return -1;
    if (!(Math.abs(value - judged) <= DEPARTS[kind])) return -1;
    beforeMs = takenMs;
  }
  return next;
}

/** Dew points as they now stand: an air reading may lie nearer to a humidity reading than the one that it was taken with. */
function withDewPoints(chip: AirChip, airSeenMs: number): AirChip {
  const kept = upperIndex(chip.dewPoint.atMs, airSeenMs);
  const atMs: number[] = [];
  const values: number[] = [];
  for (let index = upperIndex(chip.rh.atMs, airSeenMs); index < chip.rh.atMs.length; index++) {
    const dewC = dewPointBeside(chip.air, chip.rh, index);
    if (dewC === null) continue;
    atMs.push(chip.rh.atMs[index] as number);
    values.push(dewC);
  }
  const { node, quantity, atMs: keptMs, values: keptC } = chip.dewPoint;
  // Joined and not pushed onto: an array that has grown is held with room for half as much again.
  const all = { node, quantity, atMs: keptMs.slice(0, kept).concat(atMs), values: keptC.slice(0, kept).concat(values) };
  const rh = besidePack(chip.rh, chip.air);
  return { ...chip, rh, dewPoint: besidePack(all, rh) };
}

export interface Newest {
  readonly recent: Recent;
  /** Time of the oldest new reading; now where nothing is new. */
  readonly fromMs: number;
}

/**
 * Takes in what has been heard since. null where more than the present may have changed, and the zone must be judged: a
 * late reading, an error code, a leap, a voice that was not there or is stale.
 */
export function newestOf(recent: Recent, nowMs: number, judgedMs: number, staleAfterMs: number): Newest | null {
  const slab = recent.voices.slab.slice();
  const chips = recent.voices.chips.slice();
  const watched = recent.watched.slice();
  let fromMs = nowMs;
  for (let index = 0; index < watched.length; index++) {
    const one = watched[index] as Watched;
    const next = newEndOf(one, nowMs, judgedMs, staleAfterMs);
    if (next < 0) return null;
    const from = one.seen + 1;
    if (next === from) continue;
    const { series, kind, place } = one;
    const atMs = series.atMs.slice(from, next);
    const values = series.values.slice(from, next);
    fromMs = Math.min(fromMs, atMs[0] as number);
    watched[index] = { ...one, seen: next - 1, seenMs: atMs[atMs.length - 1] as number };
    if (kind === "slab") {
      const probe = slab[place] as SlabProbe;
      slab[place] = { ...probe, track: longer(probe.track, atMs, values) };
    } else {
      const chip = chips[place] as AirChip;
      chips[place] =
        kind === "air"
          ? { ...chip, air: longer(chip.air, atMs, values) }
          : { ...chip, rh: longer(chip.rh, atMs, values) };
    }
  }
  for (let place = 0; place < chips.length; place++) {
    const before = recent.voices.chips[place] as AirChip;
    const chip = chips[place] as AirChip;
    if (chip !== before) chips[place] = withDewPoints(chip, lastMsOf(before.air));
  }
  const { quarantinedSlab, quarantinedChips, dewPointOnlyChips, wet } = recent.voices;
  const voices: Voices = { slab, chips, quarantinedSlab, quarantinedChips, dewPointOnlyChips, wet };
  const speak =
    recent.slab.every((place) => speaksWithin(slab[place] as SlabProbe, nowMs, staleAfterMs)) &&
    recent.chips.every((place) => chipSpeaks(chips[place] as AirChip, nowMs, staleAfterMs));
  if (!speak) return null;
  const { votes, slopes } = recent;
  return { recent: { voices, slab: recent.slab, chips: recent.chips, votes, slopes, watched }, fromMs };
}
