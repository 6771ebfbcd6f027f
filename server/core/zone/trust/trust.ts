// Which probes may speak: every doubt is raised here, and a person's word lifts it.
import { lastIndexAt, type Moment, type Track } from "#core/zone/heard.ts";
import type { ZoneProbes } from "#core/zone/probes.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import { opinionsOf } from "#core/zone/second-opinion.ts";
import type { Voices } from "#core/zone/timeline.ts";
import { clockDoubts } from "#core/zone/trust/clock.ts";
import { conflictDoubts } from "#core/zone/trust/conflict.ts";
import { detachedDoubt } from "#core/zone/trust/detached.ts";
import { type Doubt, TOLD_ONLY } from "#core/zone/trust/doubt.ts";
import { errorCodeDoubt } from "#core/zone/trust/error-code.ts";
import { frozenChipDoubts, frozenSlabDoubt } from "#core/zone/trust/frozen.ts";
import { offFromHandDoubts } from "#core/zone/trust/off-from-hand.ts";
import { ownDewPointDoubt } from "#core/zone/trust/own-dew-point.ts";
import { readsLowDoubts } from "#core/zone/trust/reads-low.ts";
import { saturatedDoubt } from "#core/zone/trust/saturated.ts";
import { sunStruckDoubts } from "#core/zone/trust/sun-struck.ts";
import { unitDoubts } from "#core/zone/trust/unit.ts";

export interface Trust {
  readonly doubts: readonly Doubt[];
  readonly voices: Voices;
}

const some = <T>(value: T | null): T[] => (value === null ? [] : [value]);

/** A person vouched for the probe after the doubt arose; only a later finding can raise it again. */
function vouched(doubt: Doubt, record: ZoneRecord): boolean {
  return record.trusted.some(
    (entry) => entry.probe === doubt.probe && (doubt.kind === "unit" || entry.atMs >= doubt.sinceMs),
  );
}

/** A probe that was silenced gets its voice back after behaving well for so long, or on a person's word. */
const GOOD_MS = 60 * 60_000;
/** Looked at this often on the way back. */
const LOOK_MS = 30 * 60_000;

function cut(track: Track, atMs: number): Track {
  const end = lastIndexAt(track.atMs, atMs) + 1;
  return end === track.atMs.length
    ? track
    : { ...track, atMs: track.atMs.slice(0, end), values: track.values.slice(0, end) };
}

/** What the probes had said by an earlier time. */
function cutAll({ slab, chips, series }: ZoneProbes, atMs: number): ZoneProbes {
  return {
    slab: slab.map((probe) => ({ ...probe, track: cut(probe.track, atMs) })),
    chips: chips.map((chip) => ({
      ...chip,
      air: cut(chip.air, atMs),
      rh: cut(chip.rh, atMs),
      dew: chip.dew === null ? null : cut(chip.dew, atMs),
      dewPoint: cut(chip.dewPoint, atMs),
    })),
    series,
  };
}

/** Doubts that take away a voice, from what had been said by `nowMs`. */
function silencingDoubts({ slab, chips }: ZoneProbes, nowMs: number): Doubt[] {
  return [
    ...chips.flatMap((chip) => [
      ...some(saturatedDoubt(chip)),
      ...some(ownDewPointDoubt(chip)),
      ...frozenChipDoubts(chip, chips, slab),
    ]),
    ...slab.flatMap((probe) => [
      ...some(detachedDoubt(probe, chips, nowMs)),
      ...some(frozenSlabDoubt(probe, slab, chips)),
    ]),
    ...unitDoubts(slab, chips),
    ...conflictDoubts(slab, nowMs),
  ];
}

/** The same, with those that stood within the time of good behaviour. */
function heldDoubts(probes: ZoneProbes, nowMs: number): Doubt[] {
  const held = new Map<string, Doubt>();
  for (let backMs = 0; backMs <= GOOD_MS; backMs += LOOK_MS) {
    const then = backMs === 0 ? probes : cutAll(probes, nowMs - backMs);
    for (const doubt of silencingDoubts(then, nowMs - backMs)) {
      const key = `${doubt.probe} ${doubt.kind}`;
      const known = held.get(key);
      if (known === undefined) held.set(key, doubt);
      else if (doubt.sinceMs < known.sinceMs) held.set(key, { ...known, sinceMs: doubt.sinceMs });
    }
  }
  return [...held.values()];
}

/** Judges every probe of a zone. A doubted probe loses its voice; a doubted slab probe keeps its vote. */
export function trustOf(probes: ZoneProbes, record: ZoneRecord, moment: Moment): Trust {
  const slab = probes.slab.filter((probe) => probe.retiredMs > moment.nowMs);
  const chips = probes.chips.filter((chip) => chip.retiredMs > moment.nowMs);
  const all = [
    ...heldDoubts({ slab, chips, series: probes.series }, moment.nowMs),
    ...slab.flatMap((probe) => some(errorCodeDoubt(probe, probes.series, moment))),
    ...sunStruckDoubts(chips, moment.nowMs),
    ...readsLowDoubts(chips, moment.nowMs),
    ...clockDoubts(probes.series, moment),
    ...offFromHandDoubts(opinionsOf({ slab, chips, series: probes.series }, record, moment)),
  ];
  const doubts = all.filter((doubt) => !vouched(doubt, record));
  const nodeOf = (probe: string) => probe.slice(0, probe.indexOf("/"));
  const isSlab = (probe: string) => probe.includes("/slab");
  const silencing = doubts.filter((doubt) => !TOLD_ONLY.has(doubt.kind));
  const badClock = new Set(silencing.filter((doubt) => doubt.kind === "clock").map((doubt) => nodeOf(doubt.probe)));
  const badChipNodes = new Set(silencing.filter((doubt) => !isSlab(doubt.probe)).map((doubt) => nodeOf(doubt.probe)));
  const badSlab = new Set(silencing.filter((doubt) => isSlab(doubt.probe)).map((doubt) => doubt.probe));
  return {
    doubts,
    voices: {
      slab: probes.slab,
      chips: probes.chips,
      quarantinedSlab: new Set(
        probes.slab
          .filter((probe) => badSlab.has(probe.name) || badClock.has(probe.node.id))
          .map((probe) => probe.name),
      ),
      quarantinedChips: new Set(
        probes.chips
          .filter((chip) => badChipNodes.has(chip.node.id) || badClock.has(chip.node.id))
          .map((chip) => chip.name),
      ),
      dewPointOnlyChips: new Set(doubts.filter((doubt) => doubt.kind === "sun-struck").map((doubt) => doubt.probe)),
    },
  };
}
