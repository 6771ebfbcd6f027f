// The air of one room: heat, vapour, walls and goods. Floors are stepped by the building, which hands their exchange in.
import { AIR_HEAT_J_PER_KG_K, AIR_KG_PER_M3, LATENT_J_PER_KG } from "./constants.ts";
import type { HeatBooks, WaterBooks } from "./account.ts";
import { type HeaterState, stepHeater, targetAt } from "./heater.ts";
import { hourOfDay, inSpan, type Opening, type Room } from "./spec.ts";
import { saturationOverWaterPa, vapourPaOf, waterKgPerKg } from "./vapour.ts";
import type { WeatherNow } from "./weather.ts";

export interface RoomState {
  airC: number;
  massC: number;
  waterKg: number;
  /** Humidity of what the room holds (timber, ropes), 0 to 1. */
  goods: number;
  heater: HeaterState;
}

export interface FromFloors {
  /** Heat the floors took from air and from walls, W, and water they took, kg/s. */
  readonly airW: number;
  readonly wallsW: number;
  readonly waterKgPerS: number;
}

export function isOpen(opening: Opening, midnightMs: number, atMs: number): boolean {
  return (
    inSpan(hourOfDay({ midnightMs }, atMs), opening.daily) ||
    opening.spans.some(({ fromMs, toMs }) => atMs >= fromMs && atMs < toMs)
  );
}

/** Air changes with outdoors, per hour: leaks, wind, stack, open doors. */
export function airChangesPerH(
  room: Room,
  airC: number,
  weather: WeatherNow,
  midnightMs: number,
  atMs: number,
): number {
  const stack = room.leakAchPerRootK * Math.sqrt(Math.abs(airC - weather.airC));
  const doors = room.openings.reduce(
    (sum, door) => sum + (isOpen(door, midnightMs, atMs) ? door.ach + door.achPerMs * weather.windMPerS : 0),
    0,
  );
  return room.leakAch + room.leakAchPerMs * weather.windMPerS + stack + doors;
}

/** Air that holds heat and moves vapour, kg. */
export const airMassKg = (room: Room) => room.volumeM3 * AIR_KG_PER_M3;

export function stepRoom(
  room: Room,
  state: RoomState,
  floors: FromFloors,
  weather: WeatherNow,
  pressurePa: number,
  midnightMs: number,
  atMs: number,
  dtS: number,
  heat: HeatBooks,
  water: WaterBooks,
): void {
  const massKg = airMassKg(room);
  const airJPerK = massKg * AIR_HEAT_J_PER_KG_K;
  const target = room.heater === null ? null : targetAt(room.heater, midnightMs, atMs);
  const fired = room.heater === null ? null : stepHeater(room.heater, state.heater, target, state.airC, atMs, dtS);
  if (fired !== null) state.heater = { on: fired.on, fuelKwh: fired.fuelKwh };
  const firedW = fired?.powerW ?? 0;

  // The share of air replaced in a step saturates, so that a wide open door cannot overshoot.
  const replaced = 1 - Math.exp((-airChangesPerH(room, state.airC, weather, midnightMs, atMs) * dtS) / 3600);
  const borderW = (airJPerK * replaced * (weather.airC - state.airC)) / dtS;
  const lightW = room.lightWPerK * (weather.airC - state.airC);
  const toMassW = room.massAirWPerK * (state.airC - state.massC);
  const shellW = room.massOutWPerK * (weather.airC - state.massC);
  const roofW = room.roofM2 * (0.05 * weather.sunWPerM2 - 2.5 * (1 - weather.cloud));

  const pv = vapourPaOf(state.waterKg, pressurePa);
  const rh = pv / saturationOverWaterPa(state.airC);
  const goodsKgPerS = ((rh - state.goods) * room.storeKg) / (room.storeH * 3600);
  const outdoorsKg = waterKgPerKg(saturationOverWaterPa(weather.dewPointC), pressurePa);
  const borderKgPerS = (massKg * replaced * (outdoorsKg - state.waterKg)) / dtS;
  const openWater =
    room.water === null
      ? 0
      : 0.004 *
        room.water.areaM2 *
        (waterKgPerKg(saturationOverWaterPa(room.water.waterC), pressurePa) - state.waterKg);
  const sourceKgPerS = room.sourceKgPerH / 3600 + openWater;
  const fumesKgPerS = fired?.waterKgPerS ?? 0;
  // Open water and goods trade latent heat with the air they stand in; people and fumes bring vapour ready made.
  const latentW = -LATENT_J_PER_KG * (openWater - goodsKgPerS);

  state.airC += ((0.85 * firedW + borderW + lightW - toMassW - floors.airW + latentW) * dtS) / airJPerK;
  state.massC += ((0.15 * firedW + toMassW + shellW + roofW - floors.wallsW) * dtS) / room.massJPerK;
  state.waterKg += ((borderKgPerS + sourceKgPerS + fumesKgPerS - goodsKgPerS - floors.waterKgPerS) * dtS) / massKg;
  state.goods += room.storeKg === 0 ? 0 : (goodsKgPerS * dtS) / room.storeKg;

  heat.heaterJ += firedW * dtS;
  heat.airBorderJ += borderW * dtS;
  heat.shellJ += (lightW + shellW) * dtS;
  heat.roofJ += roofW * dtS;
  heat.latentJ += latentW * dtS;
  water.airBorderKg += borderKgPerS * dtS;
  water.sourceKg += sourceKgPerS * dtS;
  water.fumesKg += fumesKgPerS * dtS;
}
