// The building in time: rooms, floors and what passes between them, in equal steps, with its books kept.
import { emptyHeatBooks, emptyWaterBooks, type Held } from "./account.ts";
import { AIR_HEAT_J_PER_KG_K, LATENT_J_PER_KG } from "./constants.ts";
import { airMassKg, isOpen, type RoomState, stepRoom } from "./room.ts";
import { Slab } from "./slab.ts";
import type { BuildingSpec, Floor, Patch, Room } from "./spec.ts";
import { pressureAtPa, saturationOverWaterPa, vapourPaOf, waterKgPerKg } from "./vapour.ts";
import { dewPointOfC, type Weather, type WeatherNow } from "./weather.ts";

export const STEP_S = 60;
/** Long-wave exchange of a floor with walls and roof near 10 °C and emissivity 0.9, W/m2K. */
const RADIATION_W_PER_M2K = 4.7;

interface PatchRun {
  readonly patch: Patch;
  readonly areaM2: number;
  readonly slab: Slab;
  surfaceC: number;
  filmKgPerM2: number;
}
interface FloorRun {
  readonly floor: Floor;
  readonly room: RoomRun;
  readonly patches: readonly PatchRun[];
}
interface RoomRun {
  readonly room: Room;
  readonly state: RoomState;
}

export interface RoomNow {
  readonly airC: number;
  readonly rhPct: number;
  readonly dewPointC: number;
  readonly heaterOn: boolean;
}

export class Building {
  private nowMs: number;
  private readonly rooms: ReadonlyMap<string, RoomRun>;
  private readonly floors: readonly FloorRun[];
  private readonly pressurePa: number;
  readonly heatBooks = emptyHeatBooks();
  readonly waterBooks = emptyWaterBooks();

  constructor(
    private readonly spec: BuildingSpec,
    private readonly weather: Weather,
    startMs: number,
  ) {
    this.nowMs = startMs;
    this.pressurePa = pressureAtPa(spec.altitudeM);
    const outdoors = weather(startMs);
    this.rooms = new Map(spec.rooms.map((room) => [room.id, { room, state: this.firstState(room, outdoors) }]));
    this.floors = spec.floors.map((floor) => ({
      floor,
      room: this.roomRun(floor.room),
      patches: floor.patches.map((patch) => ({
        patch,
        areaM2: floor.areaM2 * patch.share,
        slab: new Slab(patch.slab, floor.startC),
        surfaceC: floor.startC,
        filmKgPerM2: 0,
      })),
    }));
  }

  private firstState(room: Room, outdoors: WeatherNow): RoomState {
    const floor = this.spec.floors.find((each) => each.room === room.id);
    const airC = floor?.startC ?? outdoors.airC;
    return {
      airC,
      massC: airC,
      waterKg: waterKgPerKg(saturationOverWaterPa(Math.min(outdoors.dewPointC, airC)), this.pressurePa),
      goods: Math.min(0.95, saturationOverWaterPa(outdoors.dewPointC) / saturationOverWaterPa(airC)),
      heater: { on: false, fuelKwh: room.heater?.fuelKwh ?? null },
    };
  }

  private roomRun(id: string): RoomRun {
    const run = this.rooms.get(id);
    if (run === undefined) throw new RangeError(`the building has no room "${id}"`);
    return run;
  }

  /** Steps until no whole step is left before `toMs`. */
  advanceTo(toMs: number): void {
    while (this.nowMs + STEP_S * 1000 <= toMs) this.step();
  }

  atMs(): number {
    return this.nowMs;
  }

  private step(): void {
    const outdoors = this.weather(this.nowMs);
    for (const passage of this.spec.passages) this.pass(passage.rooms, passage.m3PerH);
    for (const run of this.rooms.values()) {
      let airW = 0;
      let wallsW = 0;
      let waterKgPerS = 0;
      for (const floor of this.floors) {
        if (floor.room !== run) continue;
        for (const patch of floor.patches) {
          const flux = this.stepPatch(patch, run.state, outdoors);
          airW += flux.airW;
          wallsW += flux.wallsW;
          waterKgPerS += flux.waterKgPerS;
        }
      }
      const floors = { airW, wallsW, waterKgPerS };
      stepRoom(
        run.room,
        run.state,
        floors,
        outdoors,
        this.pressurePa,
        this.spec.midnightMs,
        this.nowMs,
        STEP_S,
        this.heatBooks,
        this.waterBooks,
      );
    }
    this.nowMs += STEP_S * 1000;
  }

  /** Two rooms trade air of equal mass: heat and vapour go with it. */
  private pass(ids: readonly [string, string], m3PerH: number): void {
    const [a, b] = [this.roomRun(ids[0]), this.roomRun(ids[1])];
    const smaller = Math.min(a.room.volumeM3, b.room.volumeM3);
    const movedM3 = smaller * (1 - Math.exp((-m3PerH * STEP_S) / 3600 / smaller)) * 0.5;
    const heat = movedM3 * (a.state.airC - b.state.airC);
    const water = movedM3 * (a.state.waterKg - b.state.waterKg);
    a.state.airC -= heat / a.room.volumeM3;
    b.state.airC += heat / b.room.volumeM3;
    a.state.waterKg -= water / a.room.volumeM3;
    b.state.waterKg += water / b.room.volumeM3;
  }

  private stepPatch(run: PatchRun, room: RoomState, outdoors: WeatherNow) {
    const { patch, areaM2 } = run;
    // Lewis: mass moves with heat, divided by the heat of moist air.
    const transfer = patch.convectionWPerM2K / AIR_HEAT_J_PER_KG_K;
    const short = room.waterKg - waterKgPerKg(saturationOverWaterPa(run.surfaceC), this.pressurePa);
    const wetted = Math.max(transfer * short, -run.filmKgPerM2 / STEP_S);
    run.filmKgPerM2 = Math.max(0, run.filmKgPerM2 + wetted * STEP_S);
    const sun = patch.sunShare * outdoors.sunWPerM2;
    const flux = run.slab.step(STEP_S, {
      airC: room.airC,
      radiantC: room.massC,
      outdoorC: outdoors.airC,
      convectionWPerM2K: patch.convectionWPerM2K,
      radiationWPerM2K: RADIATION_W_PER_M2K,
      gainWPerM2: sun + wetted * LATENT_J_PER_KG,
    });
    run.surfaceC = flux.surfaceC;
    this.heatBooks.sunFloorJ += sun * areaM2 * STEP_S;
    this.heatBooks.latentJ += wetted * LATENT_J_PER_KG * areaM2 * STEP_S;
    this.heatBooks.belowJ += flux.fromBelowWPerM2 * areaM2 * STEP_S;
    this.heatBooks.edgeJ += flux.fromEdgeWPerM2 * areaM2 * STEP_S;
    return { airW: flux.fromAirWPerM2 * areaM2, wallsW: flux.fromWallsWPerM2 * areaM2, waterKgPerS: wetted * areaM2 };
  }

  /** All heat above 0 °C and all water in the building now. */
  held(): Held {
    let heatJ = 0;
    let waterKg = 0;
    for (const { room, state } of this.rooms.values()) {
      heatJ += airMassKg(room) * AIR_HEAT_J_PER_KG_K * state.airC + room.massJPerK * state.massC;
      waterKg += airMassKg(room) * state.waterKg + room.storeKg * state.goods;
    }
    for (const floor of this.floors) {
      for (const patch of floor.patches) {
        heatJ += patch.slab.heldJPerM2() * patch.areaM2;
        waterKg += patch.filmKgPerM2 * patch.areaM2;
      }
    }
    return { heatJ, waterKg };
  }

  outdoors(): WeatherNow {
    return this.weather(this.nowMs);
  }

  /** Air of the room over a zone. */
  roomOf(zone: string): RoomNow {
    const floor = this.floorOf(zone);
    const { state } = floor.room;
    const rhPct = Math.min(100, (100 * vapourPaOf(state.waterKg, this.pressurePa)) / saturationOverWaterPa(state.airC));
    return { airC: state.airC, rhPct, dewPointC: dewPointOfC(state.airC, rhPct), heaterOn: state.heater.on };
  }

  /** Surface of one patch, °C, with the water that stands on it, kg/m2. */
  surfaceOf(zone: string, patch: string): { readonly slabC: number; readonly filmKgPerM2: number } {
    const run = this.floorOf(zone).patches.find((each) => each.patch.id === patch);
    if (run === undefined) throw new RangeError(`zone "${zone}" has no patch "${patch}"`);
    return { slabC: run.surfaceC, filmKgPerM2: run.filmKgPerM2 };
  }

  patchesOf(zone: string): readonly string[] {
    return this.floorOf(zone).patches.map((each) => each.patch.id);
  }

  doorOpen(zone: string, opening: string): boolean {
    const { room } = this.floorOf(zone).room;
    const found = room.openings.find((each) => each.id === opening);
    if (found === undefined) throw new RangeError(`room "${room.id}" has no opening "${opening}"`);
    return isOpen(found, this.spec.midnightMs, this.nowMs);
  }

  private floorOf(zone: string): FloorRun {
    const floor = this.floors.find((each) => each.floor.zone === zone);
    if (floor === undefined) throw new RangeError(`the building has no zone "${zone}"`);
    return floor;
  }
}
