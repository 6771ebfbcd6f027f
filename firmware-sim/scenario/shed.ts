// A plain shed with one floor, put together from a few wishes: how it is floored, heated, shut and used.
import type { BuildingSpec, DailySpan, Heater } from "../building/spec.ts";
import { concrete, foam, type SlabSpec, soil } from "../building/slab.ts";
import type { NodeFault, SimNode } from "../node/spec.ts";

export interface ShedHeat {
  readonly powerKw: number;
  readonly targets: Heater["targets"];
  readonly hysteresisK?: number;
  readonly setBack?: Heater["setBack"];
  /** Fuel on site from a moment on; absent = endless. */
  readonly fuel?: { readonly kwh: number; readonly fromMs: number };
  /** Unvented propane leaves about 0.12 kg of water per kWh of heat (from its combustion equation). */
  readonly unvented?: boolean;
}

export interface ShedWishes {
  readonly floor: "on-grade" | "insulated" | "deck";
  readonly shell: "tight" | "loose";
  readonly heat: ShedHeat | null;
  readonly doors?: readonly DailySpan[];
  readonly doorSpans?: readonly { readonly fromMs: number; readonly toMs: number }[];
  /** Water from people, washing, drying concrete, kg/h. */
  readonly dampKgPerH?: number;
  readonly groundC?: number;
  /** Share of the sun outdoors that falls on the sunny patch. */
  readonly sunShare?: number;
  readonly startC: number;
}

export const SHED_ZONE = "floor";
export const SHED_NODE = "n1";
const AREA_M2 = 80;

function slabOf(wishes: ShedWishes, edgeWPerM2K: number): SlabSpec {
  const ground = { kind: "ground", groundC: wishes.groundC ?? 8 } as const;
  if (wishes.floor === "deck")
    return { layers: [concrete(0.14, 6)], below: { kind: "outdoors", filmWPerM2K: 7 }, edgeWPerM2K };
  if (wishes.floor === "insulated")
    return { layers: [concrete(0.13, 5), foam(0.05, 2), soil(1.2, 5)], below: ground, edgeWPerM2K };
  return { layers: [concrete(0.15, 5), soil(1.8, 9)], below: ground, edgeWPerM2K };
}

export function shed(wishes: ShedWishes, altitudeM: number, midnightMs: number): BuildingSpec {
  const loose = wishes.shell === "loose";
  const { heat } = wishes;
  const heater: Heater | null =
    heat === null
      ? null
      : {
          powerKw: heat.powerKw,
          hysteresisK: heat.hysteresisK ?? 1,
          targets: heat.targets,
          setBack: heat.setBack ?? null,
          fuelKwh: heat.fuel?.kwh ?? null,
          fuelFromMs: heat.fuel?.fromMs ?? 0,
          waterKgPerKwh: heat.unvented === true ? 0.12 : 0,
        };
  return {
    altitudeM,
    midnightMs,
    rooms: [
      {
        id: "shed",
        volumeM3: 340,
        lightWPerK: loose ? 320 : 110,
        massJPerK: loose ? 6e6 : 14e6,
        massAirWPerK: 600,
        massOutWPerK: loose ? 260 : 60,
        roofM2: loose ? 90 : 25,
        leakAch: loose ? 0.5 : 0.2,
        leakAchPerMs: loose ? 0.2 : 0.05,
        leakAchPerRootK: loose ? 0.1 : 0.05,
        storeKg: loose ? 15 : 35,
        storeH: 5,
        sourceKgPerH: wishes.dampKgPerH ?? (loose ? 0.2 : 0.6),
        water: null,
        heater,
        openings: [{ id: "door", ach: 8, achPerMs: 1.5, daily: wishes.doors ?? [], spans: wishes.doorSpans ?? [] }],
      },
    ],
    passages: [],
    floors: [
      {
        zone: SHED_ZONE,
        room: "shed",
        areaM2: AREA_M2,
        startC: wishes.startC,
        patches: [
          { id: "middle", share: 0.8, slab: slabOf(wishes, 0), sunShare: wishes.sunShare ?? 0, convectionWPerM2K: 3 },
          { id: "door", share: 0.2, slab: slabOf(wishes, 0.9), sunShare: 0, convectionWPerM2K: 3 },
        ],
      },
    ],
  };
}

export function shedNode(everyS: number, faults: readonly NodeFault[] = []): SimNode {
  return {
    body: {
      id: SHED_NODE,
      zone: SHED_ZONE,
      everyS,
      accuracy: { slabK: 0.3, airK: 0.3, rhPct: 2 },
      probes: {
        slab: { place: "middle", xM: 5, yM: 4 },
        "slab.2": { place: "door", xM: 0.6, yM: 4 },
        air: { place: "post, 0.3 m up", xM: 5, yM: 0.5 },
      },
    },
    phaseS: 0,
    slabs: { slab: "middle", "slab.2": "door" },
    door: null,
    drift: 8,
    faults,
  };
}
