// A made-up site with one zone per call, for the dashboard: board, zone page, series and sheets. All numbers invented.
import { type RuleId, RULE_IDS } from "#core/judge/call.ts";
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";
import type { CallBody, RuleResultBody } from "#contract/call.ts";
import type { OutlookBody } from "#contract/outlook.ts";
import { failingAhead, filmAhead, losingPlot } from "./sample-ahead.ts";
import { H, iso, NIGHT_AT, type Plot } from "./sample-plot.ts";

const STEP_S = 900;

/** Plots of one zone for each call, and one that was not heard for a while; `at` is the moment of the board. */
export function plots(at: number): Plot[] {
  const t = (h: number) => iso(at + h * H);
  const hump = (h: number, mid: number, wide: number) => Math.exp(-(((h - mid) / wide) ** 2));
  return [
    {
      id: "slip",
      name: "Slip bay, river door",
      areaM2: 84,
      call: "wait",
      limiting: "night-dew",
      heardAgoS: 80,
      rules: [
        {
          rule: "night-dew",
          outcome: "stop",
          measured: 1.1,
          limit: 3,
          unit: "K",
          since: t(6.1),
          probe: "slip-door/slab",
        },
        { rule: "dew-margin", outcome: "caution", measured: 3.9, limit: 3, unit: "K", probe: "slip-door/slab" },
      ],
      margin: (h) =>
        h < 0
          ? 5.5 - 0.1 * (h + 12) + 0.5 * Math.sin(h)
          : 3.9 - 2.7 * hump(h, 6.2, 3.2) + (h > 9 ? Math.min(3.4, (h - 9) * 0.6) : 0) - (h > 22 ? (h - 22) * 0.25 : 0),
      past: [
        [-12, -9.5, "finished", null, true],
        [-9.5, -3, "finished", null],
        [-3, 0, "wait", "night-dew"],
      ],
      ahead: [
        [0, 11.2, "wait", 0.93],
        [11.2, 22, "pour", 0.82],
        [22, 30, "wait", 0.6],
        [30, 36, "wait", 0.45],
      ],
      more: {
        next: { call: "pour", earliest: t(9.6), likely: t(11.25), chance: 0.82 },
        night: { hours: 16.5, chanceHolds: 0.41, lowestMarginK: [1.1, 1.9, 2.8], lowestAt: t(6.1) },
        validUntil: t(10.4),
        nextCoat: 1,
        window: { state: "open", opensAt: t(-5), closesAt: t(29), earned: 1.31 },
        film: {
          coat: 0,
          sheet: "grip-primer",
          pouredFrom: t(-26),
          pouredTo: t(-24.5),
          dewSafeEarned: 1.05,
          dewSensitive: false,
          dewSafeAt: t(-1),
          walkOnAt: t(-8),
          driveOnAt: null,
          estimated: true,
        },
      },
    },
    {
      id: "inner",
      name: "Slip bay, inner",
      areaM2: 61,
      call: "pour",
      limiting: null,
      heardAgoS: 45,
      rules: [{ rule: "air-damp", outcome: "caution", measured: 81, limit: 85, unit: "%RH", probe: "inner-a/rh" }],
      margin: (h) => 6.2 + 0.8 * Math.sin(h / 4),
      past: [
        [-12, -6, "wait", "not-sustained"],
        [-6, 0, "pour", null],
      ],
      ahead: [
        [0, 7.6, "pour", 0.95],
        [7.6, 8.1, "wait", 0.9],
        [8.1, 36, "abrade", 0.97],
      ],
      more: {
        pour: { latestStartAt: t(5.6), lastMixAt: t(6.5), finishBy: t(6.83), batchCapL: 14, fitsM2: 61 },
        next: { call: "wait", earliest: t(7.2), likely: t(7.6), chance: 0.97 },
        night: { hours: 15.2, chanceHolds: 0.95, lowestMarginK: [4.1, 5.4, 6.1], lowestAt: t(18.8) },
        validUntil: t(7.6),
        nextCoat: 1,
        window: { state: "open", opensAt: t(-6), closesAt: t(8.1), earned: 1.46 },
        film: {
          coat: 0,
          sheet: "grip-primer",
          pouredFrom: t(-22),
          pouredTo: t(-21),
          dewSafeEarned: 1.12,
          dewSensitive: false,
          dewSafeAt: t(-2),
          walkOnAt: t(-7),
          driveOnAt: null,
          estimated: false,
        },
      },
    },
    {
      id: "rigging",
      name: "Rigging room",
      areaM2: 38,
      call: "abrade",
      limiting: "window-closed",
      heardAgoS: 130,
      rules: [
        { rule: "window-closed", outcome: "stop", since: t(-2.75) },
        { rule: "not-sustained", outcome: "caution", since: t(-0.5) },
      ],
      margin: (h) => 4.8 + 0.9 * Math.sin(h / 5 + 1),
      past: [
        [-12, -8.7, "wait", "cure-short"],
        [-8.7, -2.75, "wait", "dew-margin"],
        [-2.75, 0, "abrade", "window-closed"],
      ],
      ahead: [[0, 36, "abrade", 1]],
      more: {
        steps: ["abrade", "clean"],
        nextCoat: 2,
        window: { state: "closed", opensAt: t(-9), closesAt: t(-2.75), earned: 1.8 },
        film: {
          coat: 1,
          sheet: "clear-body",
          pouredFrom: t(-30),
          pouredTo: t(-29),
          dewSafeEarned: 1.4,
          dewSensitive: false,
          dewSafeAt: t(-11),
          walkOnAt: t(-10),
          driveOnAt: t(40),
          estimated: false,
        },
      },
    },
    {
      id: "gallery",
      name: "Gallery",
      areaM2: 120,
      call: "finished",
      limiting: null,
      heardAgoS: 60,
      rules: [],
      margin: (h) => 7 + 0.5 * Math.sin(h / 6),
      past: [[-12, 0, "finished", null]],
      ahead: [[0, 36, "finished", 0.99]],
      more: {
        film: {
          coat: 2,
          sheet: "top-coat",
          pouredFrom: t(-14),
          pouredTo: t(-12.5),
          dewSafeEarned: 1.02,
          dewSensitive: false,
          dewSafeAt: t(-0.4),
          walkOnAt: t(10.4),
          driveOnAt: t(73),
          estimated: false,
        },
      },
    },
    {
      id: "stair",
      name: "Stair landing",
      areaM2: 9,
      call: "wait",
      limiting: "data-stale",
      heardAgoS: 97 * 60,
      rules: [
        {
          rule: "data-stale",
          outcome: "stop",
          measured: 97,
          limit: 30,
          unit: "min",
          probe: "stair-1/slab",
          since: iso(at - 97 * 60_000),
        },
      ],
      margin: (h) => (h < -97 / 60 ? 5 + 0.3 * Math.sin(h) : Number.NaN),
      past: [
        [-12, -1.12, "pour", null],
        [-1.12, 0, "wait", "data-stale"],
      ],
      ahead: null,
      more: {
        nextCoat: 1,
        window: { state: "open", opensAt: t(-10), closesAt: t(20), earned: 1.2 },
        film: {
          coat: 0,
          sheet: "grip-primer",
          pouredFrom: t(-20),
          pouredTo: t(-19),
          dewSafeEarned: 1.0,
          dewSensitive: false,
          dewSafeAt: t(-3),
          walkOnAt: t(-6),
          driveOnAt: null,
          estimated: false,
        },
        conditions: {
          slabColdC: null,
          slabHotC: null,
          airC: null,
          rhPct: null,
          dewPointC: null,
          marginK: null,
          marginUncertaintyK: null,
          slabSlopeKPerH: null,
          ageS: 97 * 60,
        },
      },
    },
    losingPlot(at),
  ];
}

export function callOf(plot: Plot, at: number): CallBody {
  const given = new Map(plot.rules.map((rule) => [rule.rule, rule]));
  const blind = plot.limiting === "data-stale";
  const marginK = plot.margin(0);
  return {
    site: "boathouse",
    zone: plot.id,
    at: iso(at),
    call: plot.call,
    limiting: plot.limiting,
    rules: RULE_IDS.map((rule) => ({
      rule,
      outcome: blind && /^(slab|air|dew|vapour)/.test(rule) ? "unknown" : "pass",
      measured: null,
      limit: null,
      unit: null,
      probe: null,
      since: null,
      detail: null,
      ...(blind ? {} : PASSING[rule]),
      ...given.get(rule),
    })),
    steps: [],
    validUntil: null,
    pour: null,
    next: null,
    night: null,
    window: { state: "none", opensAt: null, closesAt: null, earned: null },
    film: null,
    nextCoat: null,
    pouring: false,
    conditions: {
      slabColdC: 12.1,
      slabHotC: 13.4,
      airC: 14,
      rhPct: 61,
      dewPointC: Math.round((12.1 - marginK) * 10) / 10,
      marginK: Math.round(marginK * 10) / 10,
      marginUncertaintyK: 0.9,
      slabSlopeKPerH: -0.3,
      ageS: plot.heardAgoS,
    },
    ruleVersion: "1",
    ...plot.more,
  };
}

const PASSING: Partial<Record<RuleId, Partial<RuleResultBody>>> = {
  "slab-cold": { measured: 12.1, limit: 10, unit: "C", probe: "slip-door/slab" },
  "slab-hot": { measured: 13.4, limit: 30, unit: "C", probe: "slip-mid/slab" },
  "air-cold": { measured: 14, limit: 10, unit: "C", probe: "slip-mid/air" },
  "air-hot": { measured: 14, limit: 32, unit: "C", probe: "slip-mid/air" },
  "air-damp": { measured: 61, limit: 85, unit: "%RH", probe: "slip-mid/rh" },
  "dew-margin": { measured: 5.6, limit: 3, unit: "K", probe: "slip-door/slab" },
  "slab-rising": { measured: -0.3, limit: 1, unit: "K/h", probe: "slip-mid/slab" },
  "cure-short": { measured: 1.31, limit: 1, unit: "1" },
};

function outlookOf(plot: Plot, at: number): OutlookBody | null {
  if (plot.ahead === null) return null;
  const steps = Array.from({ length: 145 }, (_, index) => index / 4);
  const fan = (mid: (h: number) => number, wide: number) => ({
    q10: steps.map((h) => Math.round((mid(h) - wide * (0.15 + 0.045 * h)) * 100) / 100),
    q50: steps.map((h) => Math.round(mid(h) * 100) / 100),
    q90: steps.map((h) => Math.round((mid(h) + wide * (0.15 + 0.045 * h)) * 100) / 100),
  });
  const slab = (h: number) => 12.1 - 1.2 * Math.sin((h / 24) * 2 * Math.PI);
  return {
    from: iso(at),
    stepS: STEP_S,
    basis: ["two-nights", "feed"],
    marginK: fan((h) => plot.margin(h), 1),
    slabColdC: fan(slab, 0.7),
    airC: fan((h) => 14 - 3 * Math.sin(((h - 2) / 24) * 2 * Math.PI), 1.3),
    dewPointC: fan((h) => slab(h) - plot.margin(h), 0.8),
    calls: plot.ahead.map(([from, to, call, chance]) => ({
      from: iso(at + from * H),
      to: iso(at + to * H),
      call,
      chance,
    })),
    film: filmAhead(plot, at),
    failing: failingAhead(plot.id),
    feedAgeS: 1800,
  };
}

function zoneOf(plot: Plot, at: number): BoardZoneBody {
  const margins = Array.from({ length: 97 }, (_, index) => plot.margin(-12 + index / 8));
  return {
    zone: {
      id: plot.id,
      name: plot.name,
      areaM2: plot.areaM2,
      pourM2PerH: 60,
      system: ["grip-primer", "clear-body", "top-coat"],
      base: "porous",
    },
    call: callOf(plot, at),
    past: plot.past.map(([from, to, call, limiting, hindsight]) => ({
      from: iso(at + from * H),
      to: to === 0 ? null : iso(at + to * H),
      call,
      limiting,
      hindsight: hindsight ?? false,
    })),
    pastMargin: {
      from: iso(at - 12 * H),
      stepS: 450,
      marginK: margins.map((k) => (Number.isFinite(k) ? Math.round(k * 100) / 100 : null)),
    },
    outlook: outlookOf(plot, at),
    marginLimitK: 3,
    lastHeard: iso(at - plot.heardAgoS * 1000),
  };
}

/** The board of the made-up site at `at` (epoch ms). */
export function sampleBoard(at = Date.parse(NIGHT_AT)): BoardBody {
  const node = (id: string, zone: string | null, agoS: number, batteryPct: number) => ({
    node: {
      id,
      zone,
      everyS: 60,
      accuracy: { slabK: 0.5, airK: 0.4, rhPct: 3 },
      probes: { slab: { place: `${id.split("-")[1] ?? id}` } },
    },
    presence: agoS > 1800 ? ("offline" as const) : ("online" as const),
    lastHeard: iso(at - agoS * 1000),
    batteryPct,
    rssiDbm: -71,
    quarantined: 0,
    lastReason: null,
  });
  return {
    site: { id: "boathouse", name: "Otter Landing boathouse", timezone: "America/Chicago", altitudeM: 210 },
    at: iso(at),
    pace: 1,
    outdoorC: -4,
    zones: plots(at).map((plot) => zoneOf(plot, at)),
    nodes: [
      node("slip-door", "slip", 80, 71),
      node("slip-mid", "slip", 65, 64),
      node("inner-a", "inner", 45, 80),
      node("rig-1", "rigging", 130, 55),
      node("gal-1", "gallery", 60, 90),
      node("stair-1", "stair", 97 * 60, 12),
      node("boiler-1", "boiler", 70, 77),
      node("yard", null, 50, 88),
    ],
  };
}
