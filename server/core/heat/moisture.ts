// Water that heating adds to a room: fumes bring it, leaks carry it away, a floor colder than the dew point takes some.
import { OVER_WATER, saturationTempC, saturationVapourPa, TEMP_RANGE_C } from "#core/air/vapour.ts";
import { pressureAtAltitudePa, vapourPaFromWater, waterGPerKgFromVapour } from "#core/air/water.ts";
import { keptWithin } from "#core/guard.ts";
import type { BuildingHeat } from "#core/heat/building.ts";
import { AIR_KG_PER_M3 } from "#core/heat/room.ts";
import { dewRateGPerM2H } from "#core/slab/surface-dew.ts";

/** Air film through which dew settles on the floor, W/(m² K): a low one, so that little water is said to leave the air. Common practice, no source. */
const DEW_FILM_W_PER_M2K = 2;
/** Dew points that a room has, °C. */
const DEW_RANGE_C = { min: -60, max: 60 } as const;

/** A room's moisture, prepared for any step. */
export interface Moisture {
  readonly pressurePa: number;
  readonly airKg: number;
  readonly airChangesPerH: number;
  /** How fast the floor takes water that is above its saturation, per hour. */
  readonly settlesPerH: number;
}

export function moistureOf(building: BuildingHeat, altitudeM: number): Moisture {
  const pressurePa = pressureAtAltitudePa(altitudeM);
  const airKg = building.volumeM3 * AIR_KG_PER_M3;
  // The rate is linear in the difference of vapour pressures, and nearly so in that of humidity ratios: read at 10 and 20 °C.
  const gPerM2H = dewRateGPerM2H(10, 20, 100, DEW_FILM_W_PER_M2K, pressurePa);
  const gPerKg = saturatedGPerKg(20, pressurePa) - saturatedGPerKg(10, pressurePa);
  return {
    pressurePa,
    airKg,
    airChangesPerH: building.airChangesPerH,
    settlesPerH: ((gPerM2H / gPerKg) * building.floorM2) / airKg,
  };
}

/** Humidity ratio of saturated air, g/kg; temperatures beyond those of a room are kept within them. */
export function saturatedGPerKg(tempC: number, pressurePa: number): number {
  return waterGPerKgFromVapour(saturationVapourPa(keptWithin(tempC, DEW_RANGE_C)), pressurePa);
}

/** Dew point, °C, of air with this humidity ratio. */
export function dewPointFromWaterC(waterGPerKg: number, pressurePa: number): number {
  const vapourPa = vapourPaFromWater(Math.max(waterGPerKg, 1e-4), pressurePa);
  return keptWithin(saturationTempC(OVER_WATER, vapourPa), TEMP_RANGE_C);
}

/**
 * Added water, g/kg, after `hours`: `sourceKgPerH` of fumes into air that holds `baseGPerKg` without them, over a floor
 * that saturates at `floorGPerKg`. Implicit, never below zero. Only added water settles: what the base does stands in it.
 */
export function stepAddedGPerKg(
  moisture: Moisture,
  addedGPerKg: number,
  sourceKgPerH: number,
  baseGPerKg: number,
  floorGPerKg: number,
  hours: number,
): number {
  const { airKg, airChangesPerH, settlesPerH } = moisture;
  const brought = addedGPerKg + (1000 * sourceKgPerH * hours) / airKg;
  const dry = brought / (1 + airChangesPerH * hours);
  if (baseGPerKg + dry <= floorGPerKg) return dry;
  const room = Math.max(0, floorGPerKg - baseGPerKg);
  return (brought + settlesPerH * hours * room) / (1 + (airChangesPerH + settlesPerH) * hours);
}
