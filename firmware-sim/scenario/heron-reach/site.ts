// The site as its people told the server of it: zones, nodes, and a time zone in which it is evening.
import type { SiteBody, ZoneBody } from "#contract/zone.ts";
import type { SimNode } from "../../node/spec.ts";
import { timezoneWhereItIs } from "../timezone.ts";
import { FAST_EPOXY, ONE_LINE_EPOXY, SLOW_EPOXY, URETHANE_TOP } from "../sheets.ts";

const MINUTE_MS = 60_000;
/** How long the oar store's node has been silent when the board is opened. */
export const SILENT_FOR_MS = 97 * MINUTE_MS;

export function heronReachSite(openedAtMs: number): SiteBody {
  return {
    id: "heron-reach",
    name: "Heron Reach boathouse (invented)",
    timezone: timezoneWhereItIs(18, openedAtMs),
    altitudeM: 12,
  };
}

export const SHEETS = [SLOW_EPOXY, FAST_EPOXY, ONE_LINE_EPOXY, URETHANE_TOP];

/** A room with straight walls on the plan of the house, m from its north-west corner. */
const room = (xM: number, yM: number, wideM: number, deepM: number) => [
  { xM, yM },
  { xM: xM + wideM, yM },
  { xM: xM + wideM, yM: yM + deepM },
  { xM, yM: yM + deepM },
];

export const ZONES: readonly ZoneBody[] = [
  {
    id: "launch-bay",
    name: "Launch bay",
    areaM2: 118,
    pourM2PerH: 90,
    system: [FAST_EPOXY.id, FAST_EPOXY.id],
    base: "porous",
    outline: room(1, 1, 11.8, 10),
  },
  {
    id: "clubroom",
    name: "Clubroom",
    areaM2: 54,
    pourM2PerH: 60,
    system: [SLOW_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
    outline: room(12.8, 1, 9, 6),
  },
  {
    id: "workshop",
    name: "Workshop",
    areaM2: 72,
    pourM2PerH: 55,
    system: [ONE_LINE_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
    outline: room(12.8, 7, 9, 8),
  },
  {
    id: "entrance",
    name: "Entrance hall",
    areaM2: 26,
    pourM2PerH: 40,
    system: [SLOW_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
    outline: room(1, 11, 6.5, 4),
  },
  {
    id: "oar-store",
    name: "Oar store",
    areaM2: 38,
    pourM2PerH: 50,
    system: [FAST_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
    outline: room(7.5, 11, 5.3, 7.17),
  },
];

const EVERY_S = 300;
const ACCURACY = { slabK: 0.3, airK: 0.3, rhPct: 2 };

export function heronReachNodes(openedAtMs: number): readonly SimNode[] {
  const silent = { kind: "silent", fromMs: openedAtMs - SILENT_FOR_MS + 1, toMs: Number.MAX_SAFE_INTEGER } as const;
  const node = (
    id: string,
    zone: string | null,
    probes: NonNullable<SimNode["body"]["probes"]>,
    slabs: SimNode["slabs"],
    rest: Partial<SimNode> = {},
  ): SimNode => ({
    body: { id, zone, everyS: EVERY_S, accuracy: ACCURACY, probes },
    phaseS: 0,
    slabs,
    door: null,
    drift: 12,
    faults: [],
    ...rest,
  });
  return [
    node(
      "bay-1",
      "launch-bay",
      {
        slab: { place: "middle", xM: 8, yM: 6.5 },
        "slab.2": { place: "river door", xM: 1.6, yM: 6.5 },
        air: { place: "post, 0.3 m up", xM: 8, yM: 2.5 },
      },
      { slab: "middle", "slab.2": "river-door" },
      { phaseS: 60, door: "river-door" },
    ),
    node(
      "club-1",
      "clubroom",
      {
        slab: { place: "middle", xM: 17.8, yM: 4.5 },
        "slab.2": { place: "terrace door", xM: 21.3, yM: 4 },
        air: { place: "wall side, 0.3 m up", xM: 17.8, yM: 1.4 },
      },
      { slab: "middle", "slab.2": "terrace-door" },
      { phaseS: 120 },
    ),
    node(
      "works-1",
      "workshop",
      {
        slab: { place: "middle", xM: 16.8, yM: 11 },
        "slab.2": { place: "yard door", xM: 21.1, yM: 11 },
        air: { place: "bench leg", xM: 16.8, yM: 8 },
      },
      { slab: "middle", "slab.2": "yard-door" },
      { phaseS: 180 },
    ),
    node(
      "hall-1",
      "entrance",
      { slab: { place: "middle", xM: 4, yM: 13 }, air: { place: "stair foot", xM: 2, yM: 14.5 } },
      { slab: "middle" },
      { phaseS: 240 },
    ),
    // Its last reading stands 97 minutes before the board is opened.
    node(
      "oars-1",
      "oar-store",
      { slab: { place: "middle", xM: 10, yM: 15 }, air: { place: "rack, 0.3 m up", xM: 10, yM: 11.5 } },
      { slab: "middle" },
      { phaseS: 180, faults: [silent] },
    ),
    node("river-1", null, { air: { place: "north gable, shaded", xM: 7, yM: 0.4 } }, {}, { phaseS: 0 }),
  ];
}
