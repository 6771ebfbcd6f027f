// Flames in the room, as far as the journal tells: what solvent vapour must not meet.
import type { Fuel } from "#core/zone/journal.ts";

/** A heating entry, as far as it is needed here. */
interface Heat {
  readonly on: boolean;
  readonly atMs: number;
  readonly fromMs?: number | undefined;
  readonly toMs?: number | undefined;
  readonly fuel?: Fuel | undefined;
  readonly vented?: boolean | undefined;
}

/**
 * The heater that by the journal burns in the room at `atMs`; null = none is logged. Of several entries the one that
 * began last speaks. What is not known of fuel or exhaust is taken as burning inside.
 */
export function burningInside<T extends Heat>(heating: readonly T[], atMs: number): T | null {
  const startMs = (entry: T) => entry.fromMs ?? entry.atMs;
  let last: T | null = null;
  for (const entry of heating)
    if (startMs(entry) <= atMs && (last === null || startMs(entry) >= startMs(last))) last = entry;
  if (last === null || !last.on || (last.toMs ?? Number.POSITIVE_INFINITY) <= atMs) return null;
  return last.fuel === "electric" || last.vented === true ? null : last;
}
