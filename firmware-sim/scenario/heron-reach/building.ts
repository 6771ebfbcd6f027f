// Heron Reach boathouse: an invented boathouse on a river, in winter. A bay over the water, a tempered works end, a heated club end.
import { type BuildingSpec, DAY_MS, type Floor, type Patch, type Room } from "../../building/spec.ts";
import { concrete, foam, type SlabSpec, soil } from "../../building/slab.ts";

const HOUR_MS = 3_600_000;
const GROUND_C = 8;

/** A deck over the river slip: thin, with outdoor air under it, so that it follows the night. */
const deck = (edgeWPerM2K: number): SlabSpec => ({
  layers: [concrete(0.11, 6)],
  below: { kind: "outdoors", filmWPerM2K: 7 },
  edgeWPerM2K,
});
const onGrade = (edgeWPerM2K: number): SlabSpec => ({
  layers: [concrete(0.15, 5), soil(1.8, 9)],
  below: { kind: "ground", groundC: GROUND_C },
  edgeWPerM2K,
});
const insulated = (edgeWPerM2K: number): SlabSpec => ({
  layers: [concrete(0.12, 5), foam(0.05, 2), soil(1.2, 5)],
  below: { kind: "ground", groundC: GROUND_C },
  edgeWPerM2K,
});
const patch = (id: string, share: number, slab: SlabSpec, sunShare = 0): Patch => ({
  id,
  share,
  slab,
  sunShare,
  convectionWPerM2K: 3,
});

const FLOORS: readonly Floor[] = [
  {
    zone: "launch-bay",
    room: "bay",
    areaM2: 118,
    startC: 6,
    patches: [patch("middle", 0.75, deck(0.2)), patch("river-door", 0.25, deck(1.3))],
  },
  {
    zone: "workshop",
    room: "works",
    areaM2: 72,
    startC: 10,
    patches: [patch("middle", 0.8, onGrade(0)), patch("yard-door", 0.2, onGrade(0.9))],
  },
  { zone: "oar-store", room: "works", areaM2: 38, startC: 10, patches: [patch("middle", 1, onGrade(0.1))] },
  {
    zone: "clubroom",
    room: "club",
    areaM2: 54,
    startC: 17,
    patches: [patch("middle", 0.8, insulated(0)), patch("terrace-door", 0.2, insulated(0.7), 0.02)],
  },
  { zone: "entrance", room: "club", areaM2: 26, startC: 16, patches: [patch("middle", 1, insulated(0.3))] },
];

export function boathouse(openedAtMs: number): BuildingSpec {
  // The building's day is laid so that it is six in the evening when the scenario is opened.
  const midnightMs = openedAtMs - 18 * HOUR_MS - 20 * DAY_MS;
  const alwaysMs = midnightMs - 60 * DAY_MS;
  const bay: Room = {
    id: "bay",
    volumeM3: 560,
    lightWPerK: 260,
    massJPerK: 9e6,
    massAirWPerK: 700,
    massOutWPerK: 420,
    roofM2: 130,
    leakAch: 0.5,
    leakAchPerMs: 0.22,
    leakAchPerRootK: 0.12,
    storeKg: 9,
    storeH: 4,
    sourceKgPerH: 0,
    water: { areaM2: 30, waterC: 4.8 },
    heater: null,
    openings: [
      {
        id: "river-door",
        ach: 9,
        achPerMs: 2,
        daily: [
          { fromH: 9.5, toH: 10.2 },
          { fromH: 13.5, toH: 15.5 },
        ],
        spans: [],
      },
    ],
  };
  const works: Room = {
    id: "works",
    volumeM3: 370,
    lightWPerK: 110,
    massJPerK: 14e6,
    massAirWPerK: 650,
    massOutWPerK: 70,
    roofM2: 40,
    leakAch: 0.2,
    leakAchPerMs: 0.06,
    leakAchPerRootK: 0.05,
    storeKg: 45,
    storeH: 6,
    sourceKgPerH: 0.12,
    water: null,
    heater: {
      powerKw: 9,
      hysteresisK: 0.8,
      fuelKwh: null,
      fuelFromMs: alwaysMs,
      waterKgPerKwh: 0,
      targets: [{ fromMs: alwaysMs, targetC: 11.5 }],
      setBack: null,
    },
    openings: [
      {
        id: "yard-door",
        ach: 6,
        achPerMs: 1.2,
        daily: [
          { fromH: 8.1, toH: 8.3 },
          { fromH: 12.5, toH: 12.65 },
        ],
        spans: [],
      },
    ],
  };
  const club: Room = {
    id: "club",
    volumeM3: 250,
    lightWPerK: 95,
    massJPerK: 11e6,
    massAirWPerK: 520,
    massOutWPerK: 55,
    roofM2: 20,
    leakAch: 0.18,
    leakAchPerMs: 0.05,
    leakAchPerRootK: 0.04,
    storeKg: 35,
    storeH: 6,
    sourceKgPerH: 0.22,
    water: null,
    heater: {
      powerKw: 11,
      hysteresisK: 1,
      fuelKwh: null,
      fuelFromMs: alwaysMs,
      waterKgPerKwh: 0,
      targets: [{ fromMs: alwaysMs, targetC: 18.5 }],
      setBack: { byK: 1, daily: [{ fromH: 22.5, toH: 5 }] },
    },
    openings: [
      {
        id: "front-door",
        ach: 4,
        achPerMs: 0.8,
        daily: [
          { fromH: 8.9, toH: 8.97 },
          { fromH: 16.6, toH: 16.67 },
        ],
        spans: [],
      },
    ],
  };
  return {
    altitudeM: 12,
    midnightMs,
    rooms: [bay, works, club],
    passages: [
      { rooms: ["works", "club"], m3PerH: 12 },
      { rooms: ["bay", "works"], m3PerH: 10 },
    ],
    floors: FLOORS,
  };
}
