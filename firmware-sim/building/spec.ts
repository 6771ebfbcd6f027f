// What a building is made of: rooms of air, floors over slabs, heaters, doors.
import type { SlabSpec } from "./slab.ts";

const HOUR_MS = 3_600_000;
export const DAY_MS = 24 * HOUR_MS;

/** Hours of the building's own day, 0 to 24; `fromH` above `toH` runs over midnight. */
export interface DailySpan {
  readonly fromH: number;
  readonly toH: number;
}

export interface Opening {
  readonly id: string;
  /** Air changes per hour that it adds while open, still air and per m/s of wind. */
  readonly ach: number;
  readonly achPerMs: number;
  readonly daily: readonly DailySpan[];
  /** Openings outside the daily round. */
  readonly spans: readonly { readonly fromMs: number; readonly toMs: number }[];
}

export interface Heater {
  readonly powerKw: number;
  /** Thermostat: on below target minus half of this, off above target plus half, K. */
  readonly hysteresisK: number;
  /** Heat that the fuel on site still holds, kWh; null = mains or endless. */
  readonly fuelKwh: number | null;
  readonly fuelFromMs: number;
  /** Water that its fumes leave in the room, kg per kWh; 0 when vented or electric. */
  readonly waterKgPerKwh: number;
  /** Targets from given times on, first one first; null = off. */
  readonly targets: readonly { readonly fromMs: number; readonly targetC: number | null }[];
  /** Lower target in these hours of every day, K below; empty = none. */
  readonly setBack: { readonly byK: number; readonly daily: readonly DailySpan[] } | null;
}

export interface Room {
  readonly id: string;
  readonly volumeM3: number;
  /** Air to outdoors straight through cladding, glass and gaps in insulation, W/K. */
  readonly lightWPerK: number;
  /** Walls, roof and goods as one mass: held heat, exchange with the air, loss to outdoors. */
  readonly massJPerK: number;
  readonly massAirWPerK: number;
  readonly massOutWPerK: number;
  /** Share of the roof's sun and night sky that reaches the mass, m2 of roof. */
  readonly roofM2: number;
  /** Leakage: air changes per hour at rest, per m/s of wind, per root kelvin of inside against outside. */
  readonly leakAch: number;
  readonly leakAchPerMs: number;
  readonly leakAchPerRootK: number;
  /** Timber, ropes, board: water held at 100 % against 0 %, kg, and the time they take, hours. */
  readonly storeKg: number;
  readonly storeH: number;
  /** People, drying concrete, open water: kg/h, and evaporation per kg/kg short of saturation at `waterC`. */
  readonly sourceKgPerH: number;
  readonly water: { readonly areaM2: number; readonly waterC: number } | null;
  readonly heater: Heater | null;
  readonly openings: readonly Opening[];
}

/** Air that two rooms exchange, m3/h. */
export interface Passage {
  readonly rooms: readonly [string, string];
  readonly m3PerH: number;
}

/** A stretch of floor alike within itself: middle, door edge, sun patch. */
export interface Patch {
  readonly id: string;
  readonly share: number;
  readonly slab: SlabSpec;
  /** Sun that falls on it through glass, share of the sun outdoors. */
  readonly sunShare: number;
  readonly convectionWPerM2K: number;
}

export interface Floor {
  readonly zone: string;
  readonly room: string;
  readonly areaM2: number;
  readonly startC: number;
  readonly patches: readonly Patch[];
}

export interface BuildingSpec {
  readonly altitudeM: number;
  /** A moment at which the building's day begins (its midnight); doors, set-back and sun go by it. */
  readonly midnightMs: number;
  readonly rooms: readonly Room[];
  readonly passages: readonly Passage[];
  readonly floors: readonly Floor[];
}

/** Hour of the building's day, 0 to 24. */
export function hourOfDay(spec: { readonly midnightMs: number }, atMs: number): number {
  const since = (atMs - spec.midnightMs) % DAY_MS;
  return (since < 0 ? since + DAY_MS : since) / HOUR_MS;
}

export function inSpan(hourH: number, spans: readonly DailySpan[]): boolean {
  return spans.some(({ fromH, toH }) => (fromH <= toH ? hourH >= fromH && hourH < toH : hourH >= fromH || hourH < toH));
}
