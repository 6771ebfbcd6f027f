// A doubt about a probe: what it is, since when, and whether it takes away the probe's voice.

export type DoubtKind =
  | "saturated"
  | "detached"
  | "conflict"
  | "outvoted"
  | "own-dew-point"
  | "unit"
  | "clock"
  | "sun-struck"
  | "frozen"
  | "reads-low"
  | "error-code"
  | "off-from-hand"
  | "solvent";

/**
 * Doubts that are told and leave the probe its voice: what it says can only be stricter, or is dropped already, or the
 * margin's uncertainty grows by what it is off.
 */
export const TOLD_ONLY: ReadonlySet<DoubtKind> = new Set([
  "sun-struck",
  "conflict",
  "reads-low",
  "error-code",
  "off-from-hand",
  "solvent",
]);

export interface Doubt {
  /** `node/quantity`. */
  readonly probe: string;
  readonly kind: DoubtKind;
  readonly sinceMs: number;
  /** The number that gave it away, and what it was held against. */
  readonly measured: number;
  readonly limit: number;
}
