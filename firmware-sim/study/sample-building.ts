// The building of a sampled night: the shed with its shell, mass, goods, damp and slab drawn anew.
import type { BuildingSpec, DailySpan, Room } from "../building/spec.ts";
import { shed, type ShedHeat, type ShedWishes } from "../scenario/shed.ts";
import type { Draw } from "./draw.ts";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** Loss to below of an uninsulated floor, W/m2K: share of the heat that a crew must reckon with. */
const FLOOR_LOSS_W_PER_K = 60;

export type FloorKind = ShedWishes["floor"];

export interface SampledShell {
  readonly floor: FloorKind;
  /** 0 tight to 1 loose. */
  readonly looseness: number;
  readonly room: Room;
  readonly lossWPerK: number;
}

/** Between two positive numbers, even in the logarithm. */
const mix = (tight: number, loose: number, part: number) => tight ** (1 - part) * loose ** part;

export function shellOf(draw: Draw): SampledShell {
  const floor = draw.pick<FloorKind>("floor", [
    [0.5, "on-grade"],
    [0.3, "insulated"],
    [0.2, "deck"],
  ]);
  const looseness = draw.pick("shell", [
    [0.4, draw.between("tightness", 0, 0.2)],
    [0.3, draw.between("tightness", 0.2, 0.8)],
    [0.3, draw.between("tightness", 0.8, 1)],
  ]);
  const plain = (shell: "tight" | "loose") => {
    const [room] = shed({ floor, shell, startC: 10, heat: null }, 0, 0).rooms;
    if (room === undefined) throw new RangeError("the shed has no room");
    return room;
  };
  const [tight, loose] = [plain("tight"), plain("loose")];
  const of = (
    key: {
      [K in keyof Room]: Room[K] extends number ? K : never;
    }[keyof Room],
    k: number,
  ) => mix(tight[key], loose[key], looseness) * draw.factor(key, k);
  const room: Room = {
    ...tight,
    volumeM3: of("volumeM3", 1.4),
    lightWPerK: of("lightWPerK", 1.5),
    massJPerK: of("massJPerK", 1.7),
    massAirWPerK: of("massAirWPerK", 1.3),
    massOutWPerK: of("massOutWPerK", 1.5),
    roofM2: of("roofM2", 1.5),
    leakAch: of("leakAch", 1.8),
    leakAchPerMs: of("leakAchPerMs", 1.8),
    leakAchPerRootK: of("leakAchPerRootK", 1.5),
    storeKg: of("storeKg", 2),
    storeH: of("storeH", 1.8),
    sourceKgPerH: of("sourceKgPerH", 2.5),
  };
  const air = 0.34 * room.volumeM3 * (room.leakAch + 2.5 * room.leakAchPerMs + 3 * room.leakAchPerRootK);
  const walls = 1 / (1 / room.massAirWPerK + 1 / room.massOutWPerK);
  return { floor, looseness, room, lossWPerK: air + walls + room.lightWPerK + FLOOR_LOSS_W_PER_K };
}

/** Ground under the floor by season, °C: mean of the air a year round, its swing damped to 5 K and two months late. */
export function groundC(draw: Draw, latitudeDeg: number, atMs: number): number {
  const meanC = 13 + (40 - latitudeDeg) * 0.8;
  const year = (atMs - Date.UTC(2013, 0, 15)) / (365.25 * DAY_MS) - 60 / 365.25;
  return meanC - 5 * Math.cos(2 * Math.PI * year) + draw.normal("ground", 1);
}

export interface SampledDoors {
  readonly daily: readonly DailySpan[];
  readonly forgotten: readonly { readonly fromMs: number; readonly toMs: number }[];
}

export function doorsOf(draw: Draw, fourteenMs: number): SampledDoors {
  const morning = draw.between("door-morning", 6.5, 9);
  const evening = draw.between("door-evening", 15.5, 18);
  const daily = draw.chance("doors", 0.45)
    ? [
        { fromH: morning, toH: morning + draw.between("door-long", 0.1, 1) },
        { fromH: evening, toH: evening + draw.between("door-short", 0.1, 0.5) },
      ]
    : [];
  const fromMs = fourteenMs + draw.between("forgot-from", 1, 18) * HOUR_MS;
  const forgotten = draw.chance("forgot", 0.08)
    ? [{ fromMs, toMs: fromMs + draw.between("forgot-long", 1.5, 9) * HOUR_MS }]
    : [];
  return { daily, forgotten };
}

export function buildingOf(
  draw: Draw,
  shell: SampledShell,
  heat: ShedHeat | null,
  doors: SampledDoors,
  place: { readonly altitudeM: number; readonly midnightMs: number; readonly groundC: number; readonly startC: number },
): BuildingSpec {
  const plain = shed(
    {
      floor: shell.floor,
      shell: "tight",
      heat,
      doors: doors.daily,
      doorSpans: doors.forgotten,
      groundC: place.groundC,
      sunShare: draw.chance("sun", 0.3) ? draw.between("sun-share", 0.03, 0.18) : 0,
      startC: place.startC,
    },
    place.altitudeM,
    place.midnightMs,
  );
  const thick = draw.factor("slab-thick", 1.35);
  const film = draw.factor("slab-film", 1.3);
  return {
    ...plain,
    rooms: plain.rooms.map((room) => ({ ...shell.room, heater: room.heater, openings: room.openings })),
    floors: plain.floors.map((floor) => ({
      ...floor,
      patches: floor.patches.map((patch) => ({
        ...patch,
        convectionWPerM2K: patch.convectionWPerM2K * film,
        slab: {
          ...patch.slab,
          layers: patch.slab.layers.map((layer, index) =>
            index === 0 ? { ...layer, thicknessM: layer.thicknessM * thick } : layer,
          ),
        },
      })),
    })),
  };
}
