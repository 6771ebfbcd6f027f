// Salt checks of humidity chips: how far each was off in its bag, and from when to when it spoke for a bag, not for the zone.
import { type Salt, saltPointPct } from "#core/air/salt-points.ts";
import type { ZoneRecord } from "#core/zone/record.ts";

const HOUR_MS = 3_600_000;
/** A chip in its bag for less than this has not settled. Common practice: 8 to 12 h. */
export const LEAST_SOAK_H = 8;
/** What the helper counts down. */
export const SOAK_H = 12;
/** Further off than this a chip is replaced, not corrected. Common practice, no source. */
export const REPLACE_FROM_PCT = 5;
/** Out of the bag it needs so long to speak for the room again. Common practice, no source. */
const RECOVERY_MS = HOUR_MS;

export interface SaltCheck {
  readonly entry: string;
  readonly atMs: number;
  readonly by: string | null;
  /** Node of the chip. */
  readonly node: string;
  readonly salt: Salt;
  readonly soakH: number;
  readonly airC: number;
  readonly readPct: number;
  readonly pointPct: number;
  /** Read minus point, % RH. */
  readonly errorPct: number;
  /** Soaked long enough to count. */
  readonly valid: boolean;
}

export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

const nodeOf = (probe: string) => probe.slice(0, probe.indexOf("/"));

/** Every salt check on record, oldest first. */
export function saltChecksOf(record: Pick<ZoneRecord, "saltChecked">): SaltCheck[] {
  return record.saltChecked.map(({ id, atMs, by, probe, salt, soakH, airC, readPct }) => {
    const pointPct = saltPointPct(salt, airC);
    const errorPct = readPct - pointPct;
    const valid = soakH >= LEAST_SOAK_H;
    return { entry: id, atMs, by, node: nodeOf(probe), salt, soakH, airC, readPct, pointPct, errorPct, valid };
  });
}

/** By how much a chip was off at worst in the latest valid check of each salt, % RH; 0 without a check. */
export function saltErrorPct(checks: readonly SaltCheck[], node: string): number {
  if (checks.length === 0) return 0;
  const latest = new Map<Salt, number>();
  for (const check of checks) if (check.node === node && check.valid) latest.set(check.salt, Math.abs(check.errorPct));
  return Math.max(0, ...latest.values());
}

/**
 * Stretches in which a chip lay in a bag, or had just come out: what it said then is not the air of the zone. From
 * `salt-bagged` until the check that ends it, or until the chip is laid back (`moved`); without a word of the beginning,
 * the soak that the check tells of.
 */
export function baggedOf(record: Pick<ZoneRecord, "saltBagged" | "saltChecked" | "moved">, node: string): Stretch[] {
  const own = <T extends { readonly probe: string }>(entries: readonly T[]) =>
    entries.filter(({ probe }) => nodeOf(probe) === node && !probe.includes("/slab"));
  const checked = own(record.saltChecked);
  const ends = [...checked, ...own(record.moved)].map(({ atMs }) => atMs);
  const begun = own(record.saltBagged).map(({ atMs }) => ({
    fromMs: atMs,
    toMs: Math.min(Number.POSITIVE_INFINITY, ...ends.filter((endMs) => endMs >= atMs)) + RECOVERY_MS,
  }));
  const told = checked.map(({ atMs, soakH }) => ({ fromMs: atMs - soakH * HOUR_MS, toMs: atMs + RECOVERY_MS }));
  return [...begun, ...told];
}
