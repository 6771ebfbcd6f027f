// Small scenarios on one floor: each shows one trouble of a site or a sensor, and the call that must answer it.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { riverWinter } from "../building/weather.ts";
import type { NodeFault } from "../node/spec.ts";
import type { ExpectedCall, Scenario } from "./scenario.ts";
import { shed, type ShedWishes, shedNode, SHED_ZONE } from "./shed.ts";
import { FAST_EPOXY, SLOW_EPOXY, URETHANE_TOP } from "./sheets.ts";
import { timezoneWhereItIs } from "./timezone.ts";

const HOUR_MS = 3_600_000;
const ALWAYS = 0;

interface ShedStory {
  readonly id: string;
  readonly title: string;
  readonly meanC: number;
  readonly dewPointC: number;
  readonly wishes: (at: (hours: number) => number) => ShedWishes;
  readonly faults?: (at: (hours: number) => number) => readonly NodeFault[];
  /** Hours from the opening at which the first coat went down. */
  readonly poured: readonly [fromH: number, toH: number];
  /** Slow epoxy and urethane unless it says otherwise. */
  readonly system?: readonly SheetBody[];
  readonly call: ExpectedCall["call"];
  readonly limiting: ExpectedCall["limiting"];
}

const heated = (targetC: number, powerKw = 14): ShedWishes => ({
  floor: "on-grade",
  shell: "tight",
  startC: 15,
  heat: { powerKw, targets: [{ fromMs: ALWAYS, targetC }], hysteresisK: 3.2 },
});

export const SHED_STORIES: readonly ShedStory[] = [
  {
    id: "steady-heat",
    title: "A heated floor on a dry winter evening: the second coat may go down",
    meanC: 1,
    dewPointC: -3,
    wishes: () => heated(18),
    poured: [-23, -21.8],
    call: "pour",
    limiting: [null],
  },
  {
    id: "network-back",
    title: "The node had no network for seven hours and has just brought all it remembers",
    meanC: 1,
    dewPointC: -3,
    wishes: () => heated(18),
    poured: [-23, -21.8],
    faults: (at) => [{ kind: "no-network", fromMs: at(-7.2), toMs: at(-0.2) }],
    call: "pour",
    limiting: [null],
  },
  {
    id: "fuel-runs-dry",
    title: "The heater's fuel ran out in the afternoon and the floor follows",
    meanC: -2,
    dewPointC: -5,
    poured: [-34, -32.8],
    wishes: (at) => ({
      floor: "on-grade",
      shell: "loose",
      startC: 13,
      heat: { powerKw: 22, targets: [{ fromMs: ALWAYS, targetC: 15 }], fuel: { kwh: 240, fromMs: at(-28) } },
    }),
    call: "wait",
    limiting: ["slab-cold", "air-cold"],
  },
  {
    id: "unvented-heater",
    title: "An unvented heater warmed the air and soaked it",
    meanC: 4,
    dewPointC: -2.5,
    poured: [-24, -22.8],
    system: [FAST_EPOXY, URETHANE_TOP],
    wishes: (at) => ({
      floor: "on-grade",
      shell: "tight",
      startC: 7,
      dampKgPerH: 0.1,
      heat: {
        powerKw: 24,
        targets: [
          { fromMs: ALWAYS, targetC: null },
          { fromMs: at(-5), targetC: 21 },
        ],
        unvented: true,
      },
    }),
    call: "wait",
    limiting: ["condensing"],
  },
  {
    id: "probe-off",
    title: "Both slab probes came off their tape and feel the air",
    meanC: 1,
    dewPointC: -3,
    wishes: () => heated(18),
    poured: [-23, -21.8],
    faults: (at) =>
      ["slab", "slab.2"].map((quantity) => ({ kind: "loose" as const, quantity, fromMs: at(-9), toMs: at(100) })),
    call: "wait",
    limiting: ["data-fault", "data-stale", "data-missing"],
  },
  {
    id: "wet-sensor",
    title: "The humidity sensor got wet through and says 100",
    meanC: 1,
    dewPointC: -3,
    wishes: () => heated(18),
    poured: [-23, -21.8],
    faults: (at) => [{ kind: "saturated", fromMs: at(-6), toMs: at(100) }],
    call: "wait",
    limiting: ["data-fault", "data-stale", "data-missing", "inspect-due"],
  },
];

function journalOf(story: ShedStory, at: (hours: number) => number): EntryBody[] {
  const [fromH, toH] = story.poured;
  const entry = (hours: number, did: object) =>
    ({ at: isoFromMs(at(hours)), zone: SHED_ZONE, by: "crew", ...did }) as EntryBody;
  return [
    entry(fromH - 4, { did: "abraded", how: "ground" }),
    entry(fromH - 2.5, { did: "cleaned" }),
    entry(toH, { did: "poured", coat: 0, from: isoFromMs(at(fromH)), to: isoFromMs(at(toH)) }),
  ];
}

export function shedScenario(story: ShedStory, openedAtMs: number, seed: number): Scenario {
  const openedMs = Math.floor(openedAtMs / 60_000) * 60_000;
  const at = (hours: number) => openedMs + Math.round(hours * 60) * 60_000;
  const midnightMs = openedMs - 18 * HOUR_MS;
  const fromMs = openedMs - 54 * HOUR_MS;
  const system = story.system ?? [SLOW_EPOXY, URETHANE_TOP];
  return {
    id: story.id,
    title: story.title,
    seed,
    openedAtMs: openedMs,
    fromMs,
    settleMs: 14 * 24 * HOUR_MS,
    site: { id: "shed", name: "A shed (invented)", timezone: timezoneWhereItIs(18, openedMs), altitudeM: 30 },
    sheets: system,
    zones: [
      {
        id: SHED_ZONE,
        name: "Floor",
        areaM2: 80,
        pourM2PerH: 60,
        system: system.map((sheet) => sheet.id),
        base: "porous",
      },
    ],
    nodes: [shedNode(300, story.faults?.(at) ?? [])],
    building: shed(story.wishes(at), 30, midnightMs),
    weather: riverWinter({
      seed,
      midnightMs,
      meanC: story.meanC,
      swingK: 3,
      dewPointC: story.dewPointC,
      mistK: 0.4,
      wanderK: 0.4,
      windMPerS: 2.5,
    }),
    journal: journalOf(story, at),
    expect: [{ atMs: openedMs, zone: SHED_ZONE, call: story.call, limiting: story.limiting }],
  };
}
