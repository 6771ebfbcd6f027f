// The biggest batch of the coat to come: all that the material of a sheet tells the call.
import { nextSheetOf } from "#core/judge/prospect.ts";
import { batchCapL } from "#core/takeoff/batch.ts";
import { placeM2PerHOf } from "#core/takeoff/crew.ts";
import { materialDoubts } from "#core/takeoff/material-check.ts";
import { resinOfZone } from "#core/takeoff/zone.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** L; null where the sheet does not tell, or tells nonsense. Moves no call. */
export function batchCapOf(state: ZoneState): number | null {
  const material = nextSheetOf(state)?.material;
  if (material === undefined || materialDoubts(material).length > 0) return null;
  return batchCapL(material, {
    resinC: resinOfZone(state).resinC,
    placeM2PerH: placeM2PerHOf(material, state.zone),
  });
}
