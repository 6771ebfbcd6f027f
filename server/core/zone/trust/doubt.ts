// A doubt about a probe: what it is, since when, and whether it takes away the probe's voice.

export type DoubtKind = "saturated" | "detached" | "conflict" | "own-dew-point" | "unit" | "clock" | "sun-struck";

export interface Doubt {
  /** `node/quantity`. */
  readonly probe: string;
  readonly kind: DoubtKind;
  readonly sinceMs: number;
  /** The number that gave it away, and what it was held against. */
  readonly measured: number;
  readonly limit: number;
}
