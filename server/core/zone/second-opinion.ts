// Second opinions: what each probe said when somebody measured beside it by hand.
import { dewPointC, dewPointSlope } from "#core/air/dew-point.ts";
import { HAND_ACCURACY } from "#core/zone/conditions.ts";
import { lastIndexAt, type Moment, trackAt } from "#core/zone/heard.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { isPossible, LEAST_PCT, type AirChip, type ZoneProbes } from "#core/zone/probes.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import { baggedOf } from "#core/zone/salt-check.ts";
import type { LogSeries } from "#core/zone/site.ts";

/** A probe's reading speaks for the hand reading that follows it within this time. */
export const BESIDE_MS = 15 * 60_000;

export type OpinionOf = "slab" | "air" | "rh" | "dew";

/** One hand reading held against one probe. K and °C; % RH where `of` is `rh`. */
export interface Opinion {
  readonly entry: string;
  readonly atMs: number;
  readonly by: string | null;
  readonly instrument: string | null;
  readonly calibratedOn: string | null;
  /** `node/slab...` or `node/air`. */
  readonly probe: string;
  readonly of: OpinionOf;
  readonly probeSaid: number;
  readonly handSaid: number;
  /** Probe minus hand. */
  readonly offset: number;
  /** Stated +- bounds of both, root of the sum of squares. */
  readonly bound: number;
  readonly handBound: number;
  readonly within: boolean;
  /** The probe promises more than the meter, by more than both can be off: a warmer slab, a lower dew point. */
  readonly hopeful: boolean;
}

type Measured = Extract<JournalEntry, { did: "measured" }>;
type Ask = (node: string, quantity: string) => number | null;

/** What a quantity's series said last before a hand reading, from the log itself: hand readings outlive the look-back. */
function saidBeside(series: readonly LogSeries[], moment: Moment, atMs: number): Ask {
  return (node, quantity) => {
    const own = series.find((item) => item.node === node && item.quantity === quantity);
    if (own === undefined) return null;
    const track = trackAt(own, { nowMs: Math.min(atMs, moment.nowMs), heardByMs: moment.heardByMs }, atMs - BESIDE_MS);
    const at = lastIndexAt(track.atMs, atMs);
    if (at < 0 || atMs - (track.atMs[at] as number) > BESIDE_MS) return null;
    const value = track.values[at] as number;
    return isPossible(quantity, value) ? value : null;
  };
}

const quantityOf = (probe: string) => probe.slice(probe.indexOf("/") + 1);

/** The slab probe that a hand reading speaks of: the one it names, else the coldest of that time. */
function slabBeside(entry: Measured, probes: ZoneProbes, ask: Ask) {
  const laid = probes.slab
    .filter(({ movedMs, retiredMs }) => movedMs <= entry.atMs && entry.atMs < retiredMs)
    .map((probe) => ({ probe, saidC: ask(probe.node.id, quantityOf(probe.name)) }))
    .filter((item): item is typeof item & { saidC: number } => item.saidC !== null);
  if (entry.probe !== undefined && quantityOf(entry.probe).startsWith("slab"))
    return laid.find(({ probe }) => probe.name === entry.probe) ?? null;
  return laid.reduce<(typeof laid)[number] | null>(
    (coldest, item) => (coldest === null || item.saidC < coldest.saidC ? item : coldest),
    null,
  );
}

/** Chips that a hand reading of the air speaks of: that of the node it names, if it has one; else all. */
function chipsBeside(entry: Measured, probes: ZoneProbes, record: ZoneRecord): readonly AirChip[] {
  const chips = probes.chips.filter(
    ({ node, name, retiredMs }) =>
      entry.atMs < retiredMs &&
      !record.moved.some((moved) => moved.probe === name && moved.atMs > entry.atMs) &&
      !baggedOf(record, node.id).some(({ fromMs, toMs }) => entry.atMs >= fromMs && entry.atMs < toMs),
  );
  const named = entry.probe === undefined ? [] : chips.filter(({ node }) => entry.probe?.startsWith(`${node.id}/`));
  return named.length > 0 || (entry.probe !== undefined && !quantityOf(entry.probe).startsWith("slab")) ? named : chips;
}

/** Bound of a dew point from air and humidity, K. */
function dewBoundK(airC: number, rhPct: number, airK: number, humidityPct: number): number {
  const slope = dewPointSlope(airC, rhPct);
  return Math.hypot(slope.kPerK * airK, slope.kPerRhPct * humidityPct);
}

/** Offsets of every probe against every hand reading that can be held beside it, oldest first. */
export function opinionsOf(probes: ZoneProbes, record: ZoneRecord, moment: Moment): Opinion[] {
  return record.measured.flatMap((entry) => {
    const ask = saidBeside(probes.series, moment, entry.atMs);
    const found: Opinion[] = [];
    const add = (
      probe: string,
      of: OpinionOf,
      [probeSaid, probeBound]: readonly [number, number],
      [handSaid, handBound]: readonly [number, number],
    ) => {
      const offset = probeSaid - handSaid;
      const bound = Math.hypot(probeBound, handBound);
      const within = Math.abs(offset) <= bound;
      const hopeful = !within && ((of === "slab" && offset > 0) || (of === "dew" && offset < 0));
      const { id, atMs, by, instrument = null, calibratedOn = null } = entry;
      found.push({
        ...{ entry: id, atMs, by, instrument, calibratedOn, probe, of },
        ...{ probeSaid, handSaid, offset, bound, handBound, within, hopeful },
      });
    };
    const slab = entry.slabC === undefined ? null : slabBeside(entry, probes, ask);
    if (slab !== null && entry.slabC !== undefined) {
      const { name, node } = slab.probe;
      add(name, "slab", [slab.saidC, node.accuracy.slabK], [entry.slabC, HAND_ACCURACY.slabK]);
    }
    const handPct = entry.rhPct !== undefined && entry.rhPct >= LEAST_PCT ? entry.rhPct : null;
    if (entry.airC === undefined && handPct === null) return found;
    for (const { name, node } of chipsBeside(entry, probes, record)) {
      const { airK, rhPct } = node.accuracy;
      const airC = ask(node.id, "air");
      const saidPct = ask(node.id, "rh");
      if (airC !== null && entry.airC !== undefined) {
        add(name, "air", [airC, airK], [entry.airC, HAND_ACCURACY.airK]);
      }
      if (handPct === null || saidPct === null || saidPct < LEAST_PCT) continue;
      const chipPct = Math.min(saidPct, 100);
      add(name, "rh", [chipPct, rhPct], [handPct, HAND_ACCURACY.rhPct]);
      if (airC === null) continue;
      // Dry and warm together may be sun on the chip, with the right dew point: so dryness is judged by the dew point.
      // A hand reading of humidity alone borrows the chip's air; its own air then adds no error.
      const handC = entry.airC ?? airC;
      const own = entry.airC === undefined ? 0 : 1;
      add(
        name,
        "dew",
        [dewPointC(airC, chipPct), dewBoundK(airC, chipPct, own * airK, rhPct)],
        [dewPointC(handC, handPct), dewBoundK(handC, handPct, own * HAND_ACCURACY.airK, HAND_ACCURACY.rhPct)],
      );
    }
    return found;
  });
}
