// Moisture balance of a heated room: what leaks in and out with the air, and what heaters, people and wet work add.
import { demandFinite, demandNotNegative, demandPositive } from "#core/guard.ts";

/** A well-mixed room. */
export interface Room {
  readonly volumeM3: number;
  /** Air changes per hour with the outdoors. */
  readonly airChangesPerH: number;
  readonly airDensityKgPerM3: number;
}

/** Dry air that the room holds, kg. */
function airKg(room: Room): number {
  demandPositive("volumeM3", room.volumeM3);
  demandPositive("airDensityKgPerM3", room.airDensityKgPerM3);
  demandNotNegative("airChangesPerH", room.airChangesPerH);
  return room.volumeM3 * room.airDensityKgPerM3;
}

/**
 * Humidity ratio, g/kg, at which the room settles: outdoors + G / (rho V n). `sourceKgPerH` is negative for a dryer.
 * Without air changes nothing settles: Infinity (or -Infinity for a dryer, which in truth stops at its own limit).
 */
export function steadyWaterGPerKg(room: Room, outdoorWaterGPerKg: number, sourceKgPerH: number): number {
  demandNotNegative("outdoorWaterGPerKg", outdoorWaterGPerKg);
  demandFinite("sourceKgPerH", sourceKgPerH);
  if (sourceKgPerH === 0) return outdoorWaterGPerKg;
  return outdoorWaterGPerKg + (1000 * sourceKgPerH) / (airKg(room) * room.airChangesPerH);
}

/** Humidity ratio, g/kg, after `hours` of constant outdoors and source: the exact exponential, never below zero. */
export function stepWaterGPerKg(
  room: Room,
  waterGPerKg: number,
  outdoorWaterGPerKg: number,
  sourceKgPerH: number,
  hours: number,
): number {
  demandNotNegative("waterGPerKg", waterGPerKg);
  demandNotNegative("outdoorWaterGPerKg", outdoorWaterGPerKg);
  demandFinite("sourceKgPerH", sourceKgPerH);
  demandNotNegative("hours", hours);
  const changes = room.airChangesPerH * hours;
  const left = Math.exp(-changes);
  // Air that came in during the step and is still there, in units of the room's air; hours x rate as the rate goes to 0.
  const renewed = changes > 0 ? -Math.expm1(-changes) / changes : 1;
  const added = (1000 * sourceKgPerH * hours * renewed) / airKg(room);
  return Math.max(0, waterGPerKg * left + outdoorWaterGPerKg * (1 - left) + added);
}
