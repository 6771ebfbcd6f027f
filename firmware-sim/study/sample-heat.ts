// How a sampled building is heated, by its kind, and what the crew wrote of it if it writes truthfully.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { ShedHeat } from "../scenario/shed.ts";
import type { Draw } from "./draw.ts";

const HOUR_MS = 3_600_000;

export const HEAT_KINDS = [
  "none",
  "steady",
  "too-little",
  "set-back",
  "fuel-out",
  "this-morning",
  "off-nightly",
  "off-tonight",
  "unvented",
] as const;
export type HeatKind = (typeof HEAT_KINDS)[number];

/** Cold weather brings heaters out; in mild weather few are lit. */
export function heatKind(draw: Draw, outdoorsC: number): HeatKind {
  const cold = Math.min(1, Math.max(0, (16 - outdoorsC) / 8));
  if (!draw.chance("heated", 0.08 + 0.8 * cold)) return "none";
  return draw.pick<HeatKind>("heat-kind", [
    [0.34, "steady"],
    [0.1, "too-little"],
    [0.14, "set-back"],
    [0.09, "fuel-out"],
    [0.09, "this-morning"],
    [0.08, "off-nightly"],
    [0.08, "off-tonight"],
    [0.08, "unvented"],
  ]);
}

export interface SampledHeat {
  readonly heat: ShedHeat;
  readonly journal: readonly EntryBody[];
}

interface Wanted {
  readonly kind: HeatKind;
  readonly targetC: number;
  readonly outdoorsC: number;
  /** Loss of the building, W per kelvin of inside against outside. */
  readonly lossWPerK: number;
  readonly fourteenMs: number;
  readonly fromMs: number;
}

/** The heater of a kind other than `none`, and the entries of a crew that logs all of it, plans ahead of their time. */
export function heatOf(draw: Draw, wanted: Wanted): SampledHeat {
  const { kind, targetC, fourteenMs, fromMs } = wanted;
  const at = (hours: number) => fourteenMs + Math.round(hours * 12) * (HOUR_MS / 12);
  const neededKw = (wanted.lossWPerK * Math.max(3, targetC - wanted.outdoorsC)) / 1000;
  const size = kind === "too-little" ? draw.between("size", 0.5, 0.85) : draw.between("size", 1.5, 2.6);
  const powerKw = Math.round(Math.max(2, neededKw * size) * 2) / 2;
  const unvented = kind === "unvented";
  const lit =
    kind === "this-morning" ? at(draw.between("lit", -9, -4)) : unvented ? at(draw.between("lit", -40, -3)) : 0;
  const offMs = at(draw.between("off", 3, 9));
  const byK = kind === "off-nightly" ? 60 : Math.round(draw.between("by", 2, 8));
  const nightly = { fromH: Math.round(draw.between("down", 16, 22)), toH: Math.round(draw.between("up", 5, 8)) };
  const setBack = kind === "set-back" || kind === "off-nightly" ? { byK, daily: [nightly] } : null;
  const fuelFromMs = at(-40);
  const fuelKwh = neededKw * (40 + draw.between("dry", -6, 20));
  const heat: ShedHeat = {
    powerKw,
    hysteresisK: Math.round(draw.between("hysteresis", 0.6, 3) * 10) / 10,
    setBack,
    unvented,
    targets: [
      ...(lit === 0
        ? [{ fromMs: 0, targetC }]
        : [
            { fromMs: 0, targetC: null },
            { fromMs: lit, targetC },
          ]),
      ...(kind === "off-tonight" ? [{ fromMs: offMs, targetC: null }] : []),
    ],
    ...(kind === "fuel-out" ? { fuel: { kwh: fuelKwh, fromMs: fuelFromMs } } : {}),
  };
  const entry = (atMs: number, rest: object) =>
    ({ at: isoFromMs(atMs), zone: null, did: "heating", ...rest }) as EntryBody;
  const fuel = unvented
    ? "propane"
    : draw.pick("fuel", [
        [2, "kerosene"],
        [1, "diesel"],
        [1, "electric"],
      ] as const);
  const on = { on: true, vented: !unvented, kW: powerKw, fuel, targetC };
  const midnightMs = fourteenMs - 14 * HOUR_MS;
  const nights =
    setBack === null
      ? []
      : [-2, -1, 0, 1].flatMap((day) => {
          const downMs = midnightMs + (24 * day + nightly.fromH) * HOUR_MS;
          const upMs = midnightMs + (24 * (day + 1) + nightly.toH) * HOUR_MS;
          const saidMs = Math.max(fromMs, midnightMs + (24 * day + 9) * HOUR_MS);
          if (upMs < fromMs) return [];
          const low = kind === "off-nightly" ? { on: false } : { ...on, targetC: targetC - byK };
          return [entry(saidMs, { ...low, from: isoFromMs(downMs) }), entry(saidMs, { ...on, from: isoFromMs(upMs) })];
        });
  const tonight = kind === "off-tonight" ? [entry(at(-2), { on: false, from: isoFromMs(offMs) })] : [];
  return { heat, journal: [entry(Math.max(fromMs, lit), on), ...nights, ...tonight] };
}
