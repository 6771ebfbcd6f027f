// Which probes may speak, and which of their readings: every doubt is raised here, and a person's word lifts it.
import { type Moment, type Track, upperIndex } from "#core/zone/heard.ts";
import type { AirChip, SlabProbe, ZoneProbes } from "#core/zone/probes.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import { opinionsOf } from "#core/zone/second-opinion.ts";
import type { Voices } from "#core/zone/timeline.ts";
import { clockDoubts, clockSpells } from "#core/zone/trust/clock.ts";
import { alike, conflictDoubts } from "#core/zone/trust/conflict.ts";
import { detachedSpells } from "#core/zone/trust/detached.ts";
import { type Doubt, TOLD_ONLY } from "#core/zone/trust/doubt.ts";
import { errorCodeDoubt } from "#core/zone/trust/error-code.ts";
import { frozenChipSpells, frozenSlabSpells } from "#core/zone/trust/frozen.ts";
import { offFromHandDoubts } from "#core/zone/trust/off-from-hand.ts";
import { outvotedSpells } from "#core/zone/trust/outvoted.ts";
import { ownDewPointSpells } from "#core/zone/trust/own-dew-point.ts";
import { readsLowDoubts } from "#core/zone/trust/reads-low.ts";
import { saturatedSpells } from "#core/zone/trust/saturated.ts";
import { solventDoubts } from "#core/zone/trust/solvent.ts";
import type { Spell } from "#core/zone/trust/spell.ts";
import { sunStruckDoubts } from "#core/zone/trust/sun-struck.ts";
import { unitSpells } from "#core/zone/trust/unit.ts";

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
/** A conflict is looked at this often on the way back. */
const LOOK_MS = 30 * 60_000;

const nodeOf = (probe: string) => probe.slice(0, probe.indexOf("/"));
const isSlab = (probe: string) => probe.includes("/slab");

type Stretch = Pick<Spell, "sinceMs" | "untilMs">;

/** A track without what its spells have spoiled. */
function without(track: Track, spells: readonly Stretch[]): Track {
  // Nearly every track of nearly every zone.
  if (spells.length === 0) return track;
  const spoiled = (atMs: number) => spells.some(({ sinceMs, untilMs }) => atMs >= sinceMs && atMs <= untilMs);
  const keep = track.atMs.map((atMs) => !spoiled(atMs));
  if (!keep.includes(false)) return track;
  return {
    ...track,
    atMs: track.atMs.filter((_, index) => keep[index]),
    values: track.values.filter((_, index) => keep[index]),
  };
}

/** What is left of the probes when a doubt silences a slab probe, a whole chip, or by its clock a whole node. */
function sound({ slab, chips, series }: ZoneProbes, spells: readonly Spell[]): ZoneProbes {
  const clock = (node: string) => spells.filter(({ kind, probe }) => kind === "clock" && nodeOf(probe) === node);
  const ofSlab = ({ name, node }: SlabProbe) => [...spells.filter(({ probe }) => probe === name), ...clock(node.id)];
  const ofChip = ({ node }: AirChip) => [
    ...spells.filter(({ kind, probe }) => kind !== "clock" && !isSlab(probe) && nodeOf(probe) === node.id),
    ...clock(node.id),
  ];
  return {
    slab: slab.map((probe) => ({ ...probe, track: without(probe.track, ofSlab(probe)) })),
    chips: chips.map((chip) => {
      const of = ofChip(chip);
      return {
        ...chip,
        air: without(chip.air, of),
        rh: without(chip.rh, of),
        dewPoint: without(chip.dewPoint, of),
      };
    }),
    series,
  };
}

/**
 * Every stretch that takes away a voice. What was said in another unit, or at no known time, is set aside first: it must
 * not bear witness against others. Then what stood still: a frozen value that moves again leaps, and has not come off.
 */
function spellsOf(probes: ZoneProbes, record: ZoneRecord, moment: Moment): Spell[] {
  const { nowMs } = moment;
  const standing = (spells: readonly Spell[]) =>
    spells
      .filter((spell) => !vouched(spell, record))
      // Until it has behaved well for an hour it says nothing.
      .map((spell) => (spell.untilMs >= nowMs - GOOD_MS ? { ...spell, untilMs: Number.POSITIVE_INFINITY } : spell));
  const fromMs = Math.min(nowMs, ...probes.slab.map(({ track }) => track.atMs[0] ?? nowMs));
  const first = standing([...unitSpells(probes.slab, probes.chips), ...clockSpells(probes.series, moment, fromMs)]);
  // What is out of use bears no witness either.
  const inUse = ({ retiredMs }: { readonly retiredMs: number }) => retiredMs > nowMs;
  const clear = sound(probes, first);
  const witnesses = { slab: clear.slab.filter(inUse), chips: clear.chips.filter(inUse) };
  const second = standing([
    ...clear.chips.flatMap((chip) => frozenChipSpells(chip, witnesses.chips, witnesses.slab)),
    ...clear.slab.flatMap((probe) => frozenSlabSpells(probe, witnesses.slab, witnesses.chips)),
  ]);
  const moving = sound(clear, second);
  const third = standing([
    ...moving.chips.flatMap((chip) => [...saturatedSpells(chip), ...ownDewPointSpells(chip)]),
    ...detachedSpells(moving.slab, moving.chips.filter(inUse), nowMs),
  ]);
  const fourth = standing(outvotedSpells(sound(moving, third).slab.filter(inUse)));
  return [...first, ...second, ...third, ...fourth];
}

function cut(track: Track, atMs: number): Track {
  let end = upperIndex(track.atMs, atMs);
  while (end < track.atMs.length && (track.atMs[end] as number) < atMs + 1) end++;
  return end === track.atMs.length
    ? track
    : { ...track, atMs: track.atMs.slice(0, end), values: track.values.slice(0, end) };
}

/** Conflicts among probes that may speak, with those that stood within the time of good behaviour. */
function heldConflicts(slab: readonly SlabProbe[], nowMs: number): Doubt[] {
  // Only such pairs conflict: without one no track is cut.
  if (!slab.some((a, index) => slab.slice(index + 1).some((b) => alike(a, b)))) return [];
  const held = new Map<string, Doubt>();
  for (let backMs = 0; backMs <= GOOD_MS; backMs += LOOK_MS) {
    const then = slab.map((probe) => ({ ...probe, track: cut(probe.track, nowMs - backMs) }));
    for (const doubt of conflictDoubts(then, nowMs - backMs)) {
      const known = held.get(doubt.probe);
      if (known === undefined) held.set(doubt.probe, doubt);
      else if (doubt.sinceMs < known.sinceMs) held.set(doubt.probe, { ...known, sinceMs: doubt.sinceMs });
    }
  }
  return [...held.values()];
}

/** One doubt for each probe and kind that stands now. */
function standingDoubts(spells: readonly Spell[]): Doubt[] {
  const found = new Map<string, Doubt>();
  for (const { untilMs, ...doubt } of spells) {
    if (untilMs !== Number.POSITIVE_INFINITY) continue;
    const key = `${doubt.probe} ${doubt.kind}`;
    const known = found.get(key);
    if (known === undefined || doubt.sinceMs < known.sinceMs) found.set(key, doubt);
  }
  return [...found.values()];
}

/** What wetted chips said while they were: nobody can tell it from dew, and a floor may have been wet under it. */
function wetOf({ chips }: ZoneProbes, spells: readonly Spell[]): Voices["wet"] {
  return spells
    .filter(({ kind }) => kind === "saturated")
    .flatMap(({ probe, sinceMs, untilMs }) => {
      const chip = chips.find(({ node }) => node.id === nodeOf(probe));
      if (chip === undefined) return [];
      const outside = [
        { sinceMs: Number.NEGATIVE_INFINITY, untilMs: sinceMs - 1 },
        { sinceMs: untilMs + 1, untilMs: Number.POSITIVE_INFINITY },
      ];
      return [{ node: chip.node.id, wet: without(chip.dewPoint, outside) }];
    });
}

/**
 * Judges every probe of a zone. A doubted probe loses its voice, now and wherever a fault spoiled what it said; a doubted
 * slab probe keeps its vote.
 */
export function trustOf(probes: ZoneProbes, record: ZoneRecord, moment: Moment): Trust {
  const { nowMs } = moment;
  const inUse = ({ retiredMs }: { readonly retiredMs: number }) => retiredMs > nowMs;
  const used = { ...probes, slab: probes.slab.filter(inUse), chips: probes.chips.filter(inUse) };
  const spells = spellsOf(probes, record, moment);
  const clocks = clockDoubts(probes.series, moment).filter((doubt) => !vouched(doubt, record));
  const wrongNow = clocks.map((doubt): Spell => {
    const spell = spells.filter(({ kind, probe }) => kind === "clock" && probe === doubt.probe).at(-1);
    return { ...doubt, sinceMs: spell?.sinceMs ?? Number.NEGATIVE_INFINITY, untilMs: Number.POSITIVE_INFINITY };
  });
  const voices = sound(probes, [...spells, ...wrongNow]);
  const names = new Set([...used.slab.map(({ name }) => name), ...used.chips.map(({ node }) => `${node.id}/`)]);
  const ofUsed = ({ probe }: Doubt) => names.has(probe) || (!isSlab(probe) && names.has(`${nodeOf(probe)}/`));
  const opinions = opinionsOf(used, record, moment);
  const others = [
    ...heldConflicts(voices.slab.filter(inUse), nowMs),
    ...used.slab.flatMap((probe) => some(errorCodeDoubt(probe, probes.series, moment))),
    ...sunStruckDoubts(voices.chips.filter(inUse), nowMs),
    ...readsLowDoubts(voices.chips.filter(inUse), nowMs),
    ...offFromHandDoubts(opinions),
    ...solventDoubts(voices.chips.filter(inUse), record, opinions, nowMs),
  ].filter((doubt) => !vouched(doubt, record));
  const doubts = [
    ...standingDoubts(spells.filter(({ kind }) => kind !== "clock")).filter(ofUsed),
    ...others,
    ...clocks,
  ];
  const silencing = doubts.filter((doubt) => !TOLD_ONLY.has(doubt.kind));
  const badClock = new Set(silencing.filter(({ kind }) => kind === "clock").map(({ probe }) => nodeOf(probe)));
  const badChipNodes = new Set(silencing.filter(({ probe }) => !isSlab(probe)).map(({ probe }) => nodeOf(probe)));
  const badSlab = new Set(silencing.filter(({ probe }) => isSlab(probe)).map(({ probe }) => probe));
  const named = <T extends { readonly name: string }>(all: readonly T[], is: (one: T) => boolean) =>
    new Set(all.filter(is).map(({ name }) => name));
  return {
    doubts,
    voices: {
      slab: voices.slab,
      chips: voices.chips,
      quarantinedSlab: named(probes.slab, ({ name, node }) => badSlab.has(name) || badClock.has(node.id)),
      quarantinedChips: named(probes.chips, ({ node }) => badChipNodes.has(node.id) || badClock.has(node.id)),
      wet: wetOf(probes, spells),
      dewPointOnlyChips: new Set(doubts.filter((doubt) => doubt.kind === "sun-struck").map((doubt) => doubt.probe)),
    },
  };
}
