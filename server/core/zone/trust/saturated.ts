// A humidity chip that stays at 95 to 100 %RH while the air warms has been wetted and shows nothing any more.
import type { AirChip } from "#core/zone/probes.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** Humidity at or above this may be saturation. Common practice, no source. */
const SATURATED_FROM_PCT = 95;
/** Flat: within this over the stretch. */
const FLAT_PCT = 2;
/** True humidity falls by a third when air warms by this with the same water in it. */
const WARMED_K = 3;
const STRETCH_MS = 3 * 3_600_000;

/** Looks back from the last reading over the stretch that is flat near saturation. */
export function saturatedDoubt(chip: AirChip): Doubt | null {
  const { atMs, values } = chip.rh;
  let index = atMs.length - 1;
  const last = values[index];
  if (last === undefined || last < SATURATED_FROM_PCT) return null;
  while (
    index > 0 &&
    (values[index - 1] as number) >= SATURATED_FROM_PCT &&
    Math.abs((values[index - 1] as number) - last) <= FLAT_PCT
  )
    index--;
  const sinceMs = atMs[index] as number;
  const air = chip.air.atMs.flatMap((takenMs, at) => (takenMs >= sinceMs ? [chip.air.values[at] as number] : []));
  let coldestC = Number.POSITIVE_INFINITY;
  let warmedK = 0;
  for (const airC of air) {
    coldestC = Math.min(coldestC, airC);
    warmedK = Math.max(warmedK, airC - coldestC);
  }
  const longEnough = (atMs.at(-1) as number) - sinceMs >= STRETCH_MS / 3;
  return longEnough && warmedK >= WARMED_K
    ? { probe: `${chip.node.id}/rh`, kind: "saturated", sinceMs, measured: last, limit: SATURATED_FROM_PCT }
    : null;
}
