// The air of a timeline: the dampest, driest, coldest and warmest chip, and the vote of a chip that fell silent.
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import type { Held } from "#core/zone/cursor.ts";
import { type AirChip, LEAST_PCT } from "#core/zone/probes.ts";
import { chipOffsets, lastWordMs, type Offsets } from "#core/zone/silent.ts";

/** The columns of a timeline that speak of the air; NaN where it was not known. */
export interface AirColumns {
  readonly airMinC: Float64Array;
  readonly airMaxC: Float64Array;
  readonly rhMinPct: Float64Array;
  readonly rhMaxPct: Float64Array;
  /** The dampest chip's dew point: it governs the margin. */
  readonly dewPointC: Float64Array;
  /** The driest chip's dew point: it governs the water that a coat needs. */
  readonly dewPointMinC: Float64Array;
}

/** What a chip says at each time; NaN wherever it does not say all three, or is out of use. */
interface Said {
  readonly chip: AirChip;
  readonly airC: Float64Array;
  readonly rhPct: Float64Array;
  readonly dewC: Float64Array;
  readonly firstMs: number;
  readonly dewPointOnly: boolean;
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

function saidOn(atMs: Float64Array, held: Held, chip: AirChip, dewPointOnly: boolean): Said {
  const airC = held.of(chip.air);
  const rhPct = held.of(chip.rh);
  // Of air and humidity taken together; a newer air reading alone does not unsay it.
  const dewC = held.of(chip.dewPoint);
  for (let step = 0; step < atMs.length; step++) {
    const known = !(Number.isNaN(airC[step]) || Number.isNaN(rhPct[step]) || Number.isNaN(dewC[step]));
    if (known && (atMs[step] as number) < chip.retiredMs) continue;
    airC[step] = rhPct[step] = dewC[step] = Number.NaN;
  }
  return { chip, airC, rhPct, dewC, firstMs: chip.dewPoint.atMs[0] ?? Number.POSITIVE_INFINITY, dewPointOnly };
}

/**
 * The air at each of `atMs`, of which `held` tells. `chips` are those that may speak; one that says nothing at a step is
 * taken at its worst against those that do, as a silent slab probe is: losing the dampest chip must not dry the air. With
 * too little in common the step stays unknown. `votes` are those known already, and take in what is reckoned here.
 */
export function airOn(
  atMs: Float64Array,
  held: Held,
  chips: readonly AirChip[],
  dewPointOnly: ReadonlySet<string>,
  nowMs: number,
  votes: Map<string, ChipVote | null>,
): AirColumns {
  const voices = chips.map((chip) => saidOn(atMs, held, chip, dewPointOnly.has(chip.name)));
  const [alone] = voices;
  if (alone !== undefined && voices.length === 1 && !alone.dewPointOnly) return airAlone(alone);
  const blank = () => new Float64Array(atMs.length).fill(Number.NaN);
  const columns: AirColumns = {
    airMinC: blank(),
    airMaxC: blank(),
    rhMinPct: blank(),
    rhMaxPct: blank(),
    dewPointC: blank(),
    dewPointMinC: blank(),
  };
  for (const voice of voices) take(columns, voice);
  if (voices.length < 2) return columns;
  const vote = (silent: AirChip, other: AirChip) => {
    const key = `${silent.name} ${other.name}`;
    let found = votes.get(key);
    if (found === undefined) votes.set(key, (found = voteOf(silent, other, nowMs)));
    return found;
  };
  for (let step = 0; step < atMs.length; step++) withVotes(columns, voices, step, atMs[step] as number, vote);
  return columns;
}

/** The only chip is the dampest and the driest, the coldest and the warmest. */
function airAlone({ airC, rhPct, dewC }: Said): AirColumns {
  return { airMinC: airC, airMaxC: airC, rhMinPct: rhPct, rhMaxPct: rhPct, dewPointC: dewC, dewPointMinC: dewC };
}

/** The words of one chip among several. */
function take(columns: AirColumns, { airC, rhPct, dewC, dewPointOnly }: Said): void {
  for (let step = 0; step < dewC.length; step++) {
    if (Number.isNaN(dewC[step])) continue;
    raise(columns.dewPointC, step, dewC[step] as number);
    lower(columns.dewPointMinC, step, dewC[step] as number);
    if (dewPointOnly) continue;
    lower(columns.airMinC, step, airC[step] as number);
    raise(columns.airMaxC, step, airC[step] as number);
    lower(columns.rhMinPct, step, rhPct[step] as number);
    raise(columns.rhMaxPct, step, rhPct[step] as number);
  }
}

/** The votes of chips that say nothing at a step. */
function withVotes(
  columns: AirColumns,
  voices: readonly Said[],
  step: number,
  atMs: number,
  vote: (silent: AirChip, other: AirChip) => ChipVote | null,
): void {
  let unknown = false;
  for (const { chip, dewC: nothing, firstMs } of voices) {
    if (!Number.isNaN(nothing[step]) || atMs < firstMs || atMs >= chip.retiredMs) continue;
    for (const other of voices) {
      const dewC = other.dewC[step] as number;
      if (Number.isNaN(dewC)) continue;
      const known = vote(chip, other.chip);
      if (known === null) {
        unknown = true;
        continue;
      }
      raise(columns.dewPointC, step, keptWithin(dewC + known.dew.hottestK, TEMP_RANGE_C));
      lower(columns.dewPointMinC, step, keptWithin(dewC + known.dew.coldestK, TEMP_RANGE_C));
      if (other.dewPointOnly) continue;
      const airC = other.airC[step] as number;
      const rhPct = other.rhPct[step] as number;
      lower(columns.airMinC, step, keptWithin(airC + known.air.coldestK, TEMP_RANGE_C));
      raise(columns.airMaxC, step, keptWithin(airC + known.air.hottestK, TEMP_RANGE_C));
      lower(columns.rhMinPct, step, Math.max(LEAST_PCT, rhPct + known.rh.coldestK));
      raise(columns.rhMaxPct, step, Math.min(100, rhPct + known.rh.hottestK));
    }
  }
  if (unknown) for (const column of [columns.dewPointC, columns.dewPointMinC]) column[step] = Number.NaN;
}
