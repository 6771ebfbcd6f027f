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

export const ZONES: readonly ZoneBody[] = [
  {
    id: "launch-bay",
    name: "Launch bay",
    areaM2: 118,
    pourM2PerH: 90,
    system: [FAST_EPOXY.id, FAST_EPOXY.id],
    base: "porous",
  },
  {
    id: "clubroom",
    name: "Clubroom",
    areaM2: 54,
    pourM2PerH: 60,
    system: [SLOW_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
  },
  {
    id: "workshop",
    name: "Workshop",
    areaM2: 72,
    pourM2PerH: 55,
    system: [ONE_LINE_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
  },
  {
    id: "entrance",
    name: "Entrance hall",
    areaM2: 26,
    pourM2PerH: 40,
    system: [SLOW_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
  },
  {
    id: "oar-store",
    name: "Oar store",
    areaM2: 38,
    pourM2PerH: 50,
    system: [FAST_EPOXY.id, URETHANE_TOP.id],
    base: "porous",
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
        slab: { place: "middle", xM: 7, yM: 6 },
        "slab.2": { place: "river door", xM: 0.6, yM: 6 },
        air: { place: "post, 0.3 m up", xM: 7, yM: 2 },
      },
      { slab: "middle", "slab.2": "river-door" },
      { phaseS: 60, door: "river-door" },
    ),
    node(
      "club-1",
      "clubroom",
      {
        slab: { place: "middle", xM: 4, yM: 3.5 },
        "slab.2": { place: "terrace door", xM: 0.5, yM: 3 },
        air: { place: "wall side, 0.3 m up", xM: 4, yM: 0.4 },
      },
      { slab: "middle", "slab.2": "terrace-door" },
      { phaseS: 120 },
    ),
    node(
      "works-1",
      "workshop",
      {
        slab: { place: "middle", xM: 5, yM: 4 },
        "slab.2": { place: "yard door", xM: 0.7, yM: 4 },
        air: { place: "bench leg", xM: 5, yM: 1 },
      },
      { slab: "middle", "slab.2": "yard-door" },
      { phaseS: 180 },
    ),
    node(
      "hall-1",
      "entrance",
      { slab: { place: "middle", xM: 2, yM: 3 }, air: { place: "stair foot", xM: 1, yM: 5 } },
      { slab: "middle" },
      { phaseS: 240 },
    ),
    // Its last reading stands 97 minutes before the board is opened.
    node(
      "oars-1",
      "oar-store",
      { slab: { place: "middle", xM: 3, yM: 3 }, air: { place: "rack, 0.3 m up", xM: 3, yM: 0.5 } },
      { slab: "middle" },
      { phaseS: 180, faults: [silent] },
    ),
    node("river-1", null, { air: { place: "north gable, shaded" } }, {}, { phaseS: 0 }),
  ];
}
