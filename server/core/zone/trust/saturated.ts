// A humidity chip that stays at 95 to 100 %RH while the air warms, or leaps to its stop, has been wetted and shows nothing.
import { extremesOf } from "#core/zone/extremes.ts";
import { lastIndexAt } from "#core/zone/heard.ts";
import type { AirChip } from "#core/zone/probes.ts";
import { endOf, runsOf, type Run, type Spell } from "#core/zone/trust/spell.ts";

/** Humidity at or above this may be saturation. Common practice, no source. */
const SATURATED_FROM_PCT = 95;
/** Flat: within this over the stretch. */
const FLAT_PCT = 2;
/** True humidity falls by a third when air warms by this with the same water in it. */
const WARMED_K = 3;
const LEAST_MS = 3_600_000;
/**
 * From so far below to the stop within minutes, under air that stayed as warm, and there for two hours: the vapour of a
 * room does not rise by a tenth so fast and then stand still; a drop on the chip does. What stands there for less may be
 * steam or a door to fog, and counts as dew. Common practice, no source.
 */
const LEAP = { stopPct: 99.5, byPct: 9, withinMs: 16 * 60_000, airK: 1, lastsMs: 2 * 3_600_000 } as const;

/** How far the air of the chip warmed from its coldest in a stretch. */
function warmedK({ air }: AirChip, fromMs: number, toMs: number): number {
  let coldestC = Number.POSITIVE_INFINITY;
  let warmed = 0;
  for (let at = lastIndexAt(air.atMs, fromMs - 1) + 1; at < air.atMs.length && (air.atMs[at] as number) <= toMs; at++) {
    coldestC = Math.min(coldestC, air.values[at] as number);
    warmed = Math.max(warmed, (air.values[at] as number) - coldestC);
  }
  return warmed;
}

/** The flat end of a stretch near saturation, if the air warmed under it. */
function warmedUnder(chip: AirChip, { first, last }: Run): Spell | null {
  const { atMs, values } = chip.rh;
  const lastPct = values[last] as number;
  let index = last;
  while (index > first && Math.abs((values[index - 1] as number) - lastPct) <= FLAT_PCT) index--;
  const sinceMs = atMs[index] as number;
  const toMs = atMs[last] as number;
  if (toMs - sinceMs < LEAST_MS || warmedK(chip, sinceMs, toMs) < WARMED_K) return null;
  const untilMs = endOf(chip.rh, last);
  return {
    probe: `${chip.node.id}/rh`,
    kind: "saturated",
    sinceMs,
    untilMs,
    measured: lastPct,
    limit: SATURATED_FROM_PCT,
  };
}

/** A stretch at the stop that began with a leap. */
function leapt(chip: AirChip, { first, last }: Run): Spell | null {
  const { atMs, values } = chip.rh;
  if (first === 0 || (atMs[last] as number) - (atMs[first] as number) < LEAP.lastsMs) return null;
  const [beforeMs, sinceMs] = [atMs[first - 1] as number, atMs[first] as number];
  const risenPct = (values[first] as number) - (values[first - 1] as number);
  const air = (at: number) => chip.air.values[lastIndexAt(chip.air.atMs, at)] ?? Number.NaN;
  const airK = Math.abs(air(sinceMs) - air(beforeMs));
  if (sinceMs - beforeMs > LEAP.withinMs || risenPct < LEAP.byPct || !(airK <= LEAP.airK)) return null;
  const untilMs = endOf(chip.rh, last);
  return {
    probe: `${chip.node.id}/rh`,
    kind: "saturated",
    sinceMs,
    untilMs,
    measured: values[last] as number,
    limit: SATURATED_FROM_PCT,
  };
}

/** Every stretch of a chip that shows nothing but its own water. */
export function saturatedSpells(chip: AirChip): Spell[] {
  const { values } = chip.rh;
  if (extremesOf(values).highest < SATURATED_FROM_PCT) return [];
  const high = runsOf(values.length, (at) => (values[at] as number) >= SATURATED_FROM_PCT);
  const stopped = runsOf(values.length, (at) => (values[at] as number) >= LEAP.stopPct);
  return [...high.map((run) => warmedUnder(chip, run)), ...stopped.map((run) => leapt(chip, run))].filter(
    (spell) => spell !== null,
  );
}
