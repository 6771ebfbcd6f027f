// How battery and radio of a node have gone lately, and what that warns of before it fails. Limits are common practice, no source.
import type { NodeWarningBody } from "#contract/sensors.ts";

/** Days of which the means are looked at. */
export const TREND_DAYS = 14;
const LOW_PCT = 15;
const EMPTY_PCT = 5;
/** A battery that would be empty within this time is told of. */
const AHEAD_DAYS = 14;
/** Below freezing a cell gives a good part less, and what is left at noon is not there at night. */
const COLD_C = 0;
const COLD_PCT = 40;
const WEAK_DBM = -85;
const FALL_DB = 8;
const FALL_BELOW_DBM = -75;
const MISSING_SHARE = 0.9;
/** Fewer days than this make no trend. */
const LEAST_DAYS = 4;

export interface NodeFacts {
  readonly batteryPct: number | null;
  readonly batteryDays: readonly (number | null)[];
  readonly rssiDays: readonly (number | null)[];
  /** Coldest of its own slab and air, °C. */
  readonly coldestC: number | null;
  readonly heardShare: number | null;
  /** Hours since it was last heard; null when it never was. */
  readonly silentH: number | null;
  readonly everyS: number;
}

/** Change of a value per day by least squares over the days that have one; null when they are too few. */
export function slopePerDay(days: readonly (number | null)[]): number | null {
  const points = days.flatMap((value, day) => (value === null ? [] : [{ day, value }]));
  if (points.length < LEAST_DAYS) return null;
  const mean = (of: "day" | "value") => points.reduce((sum, point) => sum + point[of], 0) / points.length;
  const [dayMean, valueMean] = [mean("day"), mean("value")];
  const over = points.reduce((sum, { day, value }) => sum + (day - dayMean) * (value - valueMean), 0);
  const under = points.reduce((sum, { day }) => sum + (day - dayMean) ** 2, 0);
  return over / under;
}

export function batteryWarnings({
  batteryPct,
  batteryDays,
  coldestC,
}: Pick<NodeFacts, "batteryPct" | "batteryDays" | "coldestC">): NodeWarningBody[] {
  if (batteryPct === null) return [];
  const warn = (kind: NodeWarningBody["kind"], inDays: number | null): NodeWarningBody => ({
    kind,
    value: batteryPct,
    unit: "%",
    inDays,
  });
  const perDay = slopePerDay(batteryDays);
  const leftDays = perDay === null || perDay >= -0.05 ? null : Math.max(0, (EMPTY_PCT - batteryPct) / perDay);
  const inDays = leftDays === null ? null : Math.round(leftDays * 10) / 10;
  if (batteryPct <= LOW_PCT) return [warn("battery-low", inDays)];
  if (inDays !== null && inDays <= AHEAD_DAYS) return [warn("battery-falls", inDays)];
  return coldestC !== null && coldestC < COLD_C && batteryPct <= COLD_PCT ? [warn("battery-cold", null)] : [];
}

function radioWarnings({ rssiDays }: NodeFacts): NodeWarningBody[] {
  const heard = rssiDays.filter((value) => value !== null);
  const lastDbm = heard.at(-1);
  if (lastDbm === undefined) return [];
  if (lastDbm <= WEAK_DBM) return [{ kind: "radio-weak", value: lastDbm, unit: "dBm", inDays: null }];
  const fellDb = Math.max(...heard) - lastDbm;
  return heard.length >= LEAST_DAYS && fellDb >= FALL_DB && lastDbm <= FALL_BELOW_DBM
    ? [{ kind: "radio-falls", value: fellDb, unit: "dB", inDays: null }]
    : [];
}

export function warningsOf(facts: NodeFacts): NodeWarningBody[] {
  const { heardShare, silentH, everyS } = facts;
  const silent = silentH !== null && silentH * 3600 > Math.max(1800, 5 * everyS);
  const missing = !silent && heardShare !== null && heardShare < MISSING_SHARE;
  return [
    ...(silent ? [{ kind: "silent", value: silentH, unit: "h", inDays: null } as const] : []),
    ...batteryWarnings(facts),
    ...radioWarnings(facts),
    ...(missing ? [{ kind: "rounds-missing", value: (1 - heardShare) * 100, unit: "%", inDays: null } as const] : []),
  ];
}
