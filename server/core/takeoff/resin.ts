// The temperature of the resin that a batch is sized by: measured, or the strictest guess.

/** A hand reading of the resin counts for this long. Common practice, no source. */
export const RESIN_VALID_MIN = 120;
/** Pails stand in heated rooms, and pot lives are printed at 23 °C: unmeasured resin is never believed colder. */
const KEPT_AT_C = 23;

export type ResinBasis = "measured" | "slab" | "air" | "kept";

export interface Resin {
  readonly resinC: number;
  readonly basis: ResinBasis;
  /** When it was measured; null where it is a guess. */
  readonly atMs: number | null;
}

/** What is known of the warmth around the pails; null = unknown. */
export interface Warmth {
  readonly slabHotC: number | null;
  readonly airMaxC: number | null;
}

/**
 * The reading if it was taken in the two hours before `nowMs`; else the warmest of the hottest slab, the air and 23 °C, since
 * warm resin dies sooner.
 */
export function resinFrom(
  reading: { readonly resinC: number; readonly atMs: number } | null,
  warmth: Warmth,
  nowMs: number,
): Resin {
  if (reading !== null && reading.atMs <= nowMs && nowMs - reading.atMs <= RESIN_VALID_MIN * 60_000) {
    return { resinC: reading.resinC, basis: "measured", atMs: reading.atMs };
  }
  const guesses: readonly Resin[] = [
    { resinC: KEPT_AT_C, basis: "kept", atMs: null },
    ...(warmth.slabHotC === null ? [] : [{ resinC: warmth.slabHotC, basis: "slab" as const, atMs: null }]),
    ...(warmth.airMaxC === null ? [] : [{ resinC: warmth.airMaxC, basis: "air" as const, atMs: null }]),
  ];
  return guesses.reduce((warmest, guess) => (guess.resinC > warmest.resinC ? guess : warmest));
}
