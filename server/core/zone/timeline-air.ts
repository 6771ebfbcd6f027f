// The air of a timeline: the dampest, driest, coldest and warmest chip, and the vote of a chip that fell silent.
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import { Cursor } from "#core/zone/cursor.ts";
import { type AirChip, LEAST_PCT } from "#core/zone/probes.ts";
import { chipOffsets, lastWordMs, type Offsets } from "#core/zone/silent.ts";

/** The columns of a timeline that speak of the air. */
interface AirColumns {
  readonly atMs: Float64Array;
  readonly airMinC: Float64Array;
  readonly airMaxC: Float64Array;
  readonly rhMinPct: Float64Array;
  readonly rhMaxPct: Float64Array;
  readonly dewPointC: Float64Array;
  readonly dewPointMinC: Float64Array;
}

interface Said {
  readonly airC: number;
  readonly rhPct: number;
  readonly dewC: number;
}

/** How far a silent chip may lie from one that speaks; null with too little in common. */
export interface ChipVote {
  readonly air: Offsets;
  readonly rh: Offsets;
  readonly dew: Offsets;
}

function voteOf(silent: AirChip, other: AirChip, nowMs: number): ChipVote | null {
  const untilMs = lastWordMs(silent.dewPoint, nowMs);
  const dew = chipOffsets(silent.dewPoint, other.dewPoint, untilMs);
  if (!dew.enough) return null;
  return { dew, air: chipOffsets(silent.air, other.air, untilMs), rh: chipOffsets(silent.rh, other.rh, untilMs) };
}

function raise(column: Float64Array, step: number, value: number): void {
  if (!(value <= (column[step] as number))) column[step] = value;
}

function lower(column: Float64Array, step: number, value: number): void {
  if (!(value >= (column[step] as number))) column[step] = value;
}

/**
 * Fills the air columns. `chips` are those that may speak; one that says nothing at a step is taken at its worst against
 * those that do, as a silent slab probe is: losing the dampest chip must not dry the air. With too little in common the
 * step stays unknown.
 */
export function fillAir(
  line: AirColumns,
  chips: readonly AirChip[],
  dewPointOnly: ReadonlySet<string>,
  nowMs: number,
  votes: Map<string, ChipVote | null>,
): void {
  const voices = chips.map((chip) => ({
    chip,
    air: new Cursor(chip.air),
    rh: new Cursor(chip.rh),
    // Of air and humidity taken together; a newer air reading alone does not unsay it.
    dew: new Cursor(chip.dewPoint),
    firstMs: chip.dewPoint.atMs[0] ?? Number.POSITIVE_INFINITY,
    said: null as Said | null,
  }));
  const vote = (silent: AirChip, other: AirChip) => {
    const key = `${silent.name} ${other.name}`;
    let found = votes.get(key);
    if (found === undefined) votes.set(key, (found = voteOf(silent, other, nowMs)));
    return found;
  };
  for (let step = 0; step < line.atMs.length; step++) {
    const atMs = line.atMs[step] as number;
    let silent = false;
    for (const voice of voices) {
      const { chip, air, rh, dew } = voice;
      const value = { airC: air.at(atMs), rhPct: rh.at(atMs), dewC: dew.at(atMs) };
      const unknown = Number.isNaN(value.airC) || Number.isNaN(value.rhPct) || Number.isNaN(value.dewC);
      voice.said = atMs < chip.retiredMs && !unknown ? value : null;
      if (voice.said === null) {
        silent ||= atMs >= voice.firstMs && atMs < chip.retiredMs;
        continue;
      }
      raise(line.dewPointC, step, voice.said.dewC);
      lower(line.dewPointMinC, step, voice.said.dewC);
      if (dewPointOnly.has(chip.name)) continue;
      lower(line.airMinC, step, value.airC);
      raise(line.airMaxC, step, value.airC);
      lower(line.rhMinPct, step, value.rhPct);
      raise(line.rhMaxPct, step, value.rhPct);
    }
    if (!silent) continue;
    let unknown = false;
    for (const { chip, said: nothing, firstMs } of voices) {
      if (nothing !== null || atMs < firstMs || atMs >= chip.retiredMs) continue;
      for (const other of voices) {
        if (other.said === null) continue;
        const known = vote(chip, other.chip);
        if (known === null) {
          unknown = true;
          continue;
        }
        const { airC, rhPct, dewC } = other.said;
        raise(line.dewPointC, step, keptWithin(dewC + known.dew.hottestK, TEMP_RANGE_C));
        lower(line.dewPointMinC, step, keptWithin(dewC + known.dew.coldestK, TEMP_RANGE_C));
        if (dewPointOnly.has(other.chip.name)) continue;
        lower(line.airMinC, step, keptWithin(airC + known.air.coldestK, TEMP_RANGE_C));
        raise(line.airMaxC, step, keptWithin(airC + known.air.hottestK, TEMP_RANGE_C));
        lower(line.rhMinPct, step, Math.max(LEAST_PCT, rhPct + known.rh.coldestK));
        raise(line.rhMaxPct, step, Math.min(100, rhPct + known.rh.hottestK));
      }
    }
    if (unknown) for (const column of [line.dewPointC, line.dewPointMinC]) column[step] = Number.NaN;
  }
}
