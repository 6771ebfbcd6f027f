// What the made-up site foresees: milestones of its films, rules that may fail, and a zone whose window will be lost. All invented.
import type { FilmAheadBody, FanTimeBody, OutlookBody } from "#contract/outlook.ts";
import { H, iso, type Plot } from "./sample-plot.ts";

type Times = readonly [earliestH: number | null, likelyH: number | null, latestH: number | null, chance: number];
interface Ahead {
  readonly opens: Times;
  readonly closes: Times;
  readonly dewSafe: Times;
  readonly walkOn: Times;
  readonly driveOn: Times;
  readonly chanceLost: number;
}
const NEVER: Times = [null, null, null, 0];
const at1 = (h: number): Times => [h, h, h, 1];

/** Hours from the moment of the board. */
const FILMS: Readonly<Record<string, Ahead>> = {
  slip: {
    opens: at1(-5),
    closes: [28.2, 29, 30.4, 1],
    dewSafe: at1(-1),
    walkOn: at1(-8),
    driveOn: NEVER,
    chanceLost: 0.12,
  },
  inner: {
    opens: at1(-6),
    closes: [7.7, 8.1, 8.6, 1],
    dewSafe: at1(-2),
    walkOn: at1(-7),
    driveOn: NEVER,
    chanceLost: 0.04,
  },
  rigging: {
    opens: at1(-9),
    closes: at1(-2.75),
    dewSafe: at1(-11),
    walkOn: at1(-10),
    driveOn: NEVER,
    chanceLost: 0,
  },
  gallery: {
    opens: NEVER,
    closes: NEVER,
    dewSafe: at1(-0.4),
    walkOn: [9.8, 10.4, 11.6, 1],
    driveOn: NEVER,
    chanceLost: 0,
  },
  boiler: {
    opens: [5.1, 6.2, 8, 1],
    closes: [3.6, 4.2, 4.9, 1],
    dewSafe: [4.4, 5.3, 6.6, 1],
    walkOn: [7.2, 8.8, 11.1, 1],
    driveOn: [null, null, null, 0.02],
    chanceLost: 0.83,
  },
};

export function filmAhead(plot: Plot, at: number): FilmAheadBody | null {
  const film = FILMS[plot.id];
  if (film === undefined) return null;
  const time = (h: number | null) => (h === null ? null : iso(at + h * H));
  const fan = ([earliest, likely, latest, chance]: Times): FanTimeBody => ({
    earliest: time(earliest),
    likely: time(likely),
    latest: time(latest),
    chance,
  });
  return {
    opens: fan(film.opens),
    closes: fan(film.closes),
    dewSafe: fan(film.dewSafe),
    walkOn: fan(film.walkOn),
    driveOn: fan(film.driveOn),
    chanceLost: film.chanceLost,
  };
}

/** Rises evenly from `fromH` to `toH` up to `most`; one value an hour for 36 hours. */
const rising = (fromH: number, toH: number, most: number) =>
  Array.from({ length: 36 }, (_, hour) => Math.min(1, Math.max(0, (hour + 1 - fromH) / (toH - fromH))) * most);

export function failingAhead(id: string): OutlookBody["failing"] {
  switch (id) {
    case "slip":
      return [
        { rule: "dew-margin", byHour: rising(2, 7, 0.94) },
        { rule: "window-closed", byHour: rising(27, 31, 0.88) },
        { rule: "slab-cold", byHour: rising(4, 30, 0.31) },
        { rule: "condensing", byHour: rising(5, 9, 0.07) },
      ];
    case "inner":
      return [
        { rule: "window-closed", byHour: rising(7, 9, 1) },
        { rule: "air-damp", byHour: rising(0, 24, 0.42) },
      ];
    case "boiler":
      return [
        { rule: "window-closed", byHour: rising(3, 5, 1) },
        { rule: "slab-cold", byHour: rising(1, 12, 0.66) },
        { rule: "air-cold", byHour: rising(3, 20, 0.38) },
        { rule: "dew-margin", byHour: rising(8, 30, 0.16) },
      ];
    default:
      return [];
  }
}

/** A room that cools so fast that the film will not be hard when its window closes. */
export function losingPlot(at: number): Plot {
  const t = (h: number) => iso(at + h * H);
  return {
    id: "boiler",
    name: "Boiler room",
    areaM2: 70,
    call: "wait",
    limiting: "cure-short",
    heardAgoS: 70,
    rules: [
      { rule: "cure-short", outcome: "stop", measured: 0.71, limit: 1, unit: "1" },
      { rule: "slab-cold", outcome: "caution", measured: 10.9, limit: 10, unit: "C", probe: "boiler-1/slab" },
    ],
    margin: (h) => 5.2 + 0.7 * Math.sin(h / 4 + 2),
    past: [
      [-12, -11.2, "finished", null],
      [-11.2, 0, "wait", "cure-short"],
    ],
    ahead: [
      [0, 3.7, "wait", 0.97],
      [3.7, 6.2, "wait", 0.83],
      [6.2, 36, "abrade", 0.83],
    ],
    more: {
      nextCoat: 1,
      next: { call: "abrade", earliest: t(5.1), likely: t(6.2), chance: 0.83 },
      window: { state: "not-yet", opensAt: t(6.2), closesAt: t(4.2), earned: 0.71 },
      film: {
        coat: 0,
        sheet: "grip-primer",
        pouredFrom: t(-19.8),
        pouredTo: t(-18.6),
        dewSafeEarned: 0.78,
        dewSensitive: true,
        dewSafeAt: t(5.3),
        walkOnAt: t(8.8),
        driveOnAt: null,
        estimated: false,
      },
    },
  };
}
