// A made-up record of a coat: a cold night with gaps, a slab that falls to the dew point, and a person who poured all the same.
import type { HandOverBody } from "#contract/hand-over.ts";
import type { CoatRecordBody, DaySummaryBody } from "#contract/record.ts";
import type { ShownCallBody } from "#contract/record-parts.ts";
import {
  BASE,
  columns,
  FROM_H,
  hash,
  RECORD_GAPS,
  RECORD_JOURNAL,
  RECORD_SLAB_GAP,
  RECORD_ZONE,
  recordAt,
  TO_H,
} from "./sample-record-night.ts";
import { SAMPLE_SITE } from "./sample-site.ts";

type Reason = ShownCallBody["reasons"][number];
const reason = (
  rule: Reason["rule"],
  outcome: Reason["outcome"],
  measured: number | null,
  limit: number | null,
  unit: string | null,
  probe: string | null = null,
): Reason => ({
  rule,
  outcome,
  measured,
  limit,
  unit,
  probe,
  since: null,
  detail: null,
});
const call = (
  at: number,
  until: number | null,
  word: ShownCallBody["call"],
  limiting: ShownCallBody["limiting"],
  reasons: Reason[],
  steps: ShownCallBody["steps"] = [],
): ShownCallBody => ({
  at: recordAt(at),
  until: until === null ? null : recordAt(until),
  call: word,
  limiting,
  steps,
  pouring: word === "pour" && at >= 0 && at < 2.5,
  reasons,
  validUntil: null,
  ruleVersion: "7",
  hash: hash(Math.round(at * 10) + 400),
});

const handOver: HandOverBody = {
  site: SAMPLE_SITE,
  zone: RECORD_ZONE,
  timezone: SAMPLE_SITE.timezone,
  madeAt: recordAt(TO_H),
  film: { coat: 0, sheet: BASE.id, name: BASE.name, pouredFrom: recordAt(0), pouredTo: recordAt(2.5), last: false },
  uses: [
    { use: "walk-on", state: "ahead", reachedAt: null, notBefore: recordAt(47.2), earned: 0.71, estimated: false },
    { use: "traffic", state: "unknown", reachedAt: null, notBefore: null, earned: 0.2, estimated: false },
    { use: "water", state: "reached", reachedAt: recordAt(26.6), notBefore: null, earned: 1.3, estimated: true },
    { use: "washing", state: "ask-the-sheet", reachedAt: null, notBefore: null, earned: null, estimated: false },
  ],
  keepWarm: { slabMinC: 10, until: recordAt(47.2) },
  keepShut: { marginMinK: 3, until: recordAt(26.6) },
  notice: [],
};
export const SAMPLE_HAND_OVER = handOver;

const head = (day: string, seed: number, closed: boolean) => ({
  day,
  head: hash(seed),
  prev: hash(seed - 1),
  journal: hash(seed + 100),
  calls: hash(seed + 200),
  readings: hash(seed + 300),
  entries: 7,
  callCount: 4,
  readingCount: 1728,
  closed,
});

const passage = {
  coat: 0,
  sheet: BASE.id,
  pouredFrom: recordAt(0),
  pouredTo: recordAt(2.5),
  until: recordAt(TO_H),
  untilNextCoat: false,
  elapsedH: TO_H - 2.5,
  recoat: { share: 1.3, reachedAt: recordAt(25.2), estimated: false },
  dewSafe: { share: 1.3, reachedAt: recordAt(26.6), estimated: true },
  foot: { share: 0.71, reachedAt: null, estimated: false },
  traffic: { share: 0.2, reachedAt: null, estimated: false },
  noMaximum: false,
  closedAt: null,
  hottestHourC: 15.2,
  marginLimitK: 3,
  lowestMarginK: -0.4,
  lowestMarginAt: recordAt(17.5),
  belowLimitMin: 412,
  inDewMin: 38,
  longestGapMin: 105,
};

export function sampleRecord(): CoatRecordBody {
  const journal = RECORD_JOURNAL.map((of, index) => ({
    entry: of,
    undoneBy: of.id === "e-13" ? "e-14" : null,
    hash: hash(index + 500),
  }));
  const of = (...kinds: string[]) => RECORD_JOURNAL.filter(({ did }) => kinds.includes(did));
  const limit = (
    name: string,
    span: string,
    limitValue: number | null,
    worst: number | null,
    unit: string,
    outcome: string,
    h: number | null,
    beyondMin: number | null = null,
  ) =>
    ({
      limit: name,
      span,
      limitValue,
      worst,
      worstAt: h === null ? null : recordAt(h),
      unit,
      outcome,
      beyondMin,
    }) as CoatRecordBody["limits"][number];
  return {
    record: 1,
    site: SAMPLE_SITE,
    zone: RECORD_ZONE,
    timezone: SAMPLE_SITE.timezone,
    coat: 0,
    madeAt: recordAt(TO_H),
    from: recordAt(FROM_H),
    to: recordAt(TO_H),
    complete: false,
    pour: {
      entry: "e-10",
      from: recordAt(0),
      to: recordAt(2.5),
      loggedAt: recordAt(2.71),
      by: "Ana",
      product: "Base epoxy (invented), grey",
      batches: [
        { part: "A", number: "26-0107-A3" },
        { part: "B", number: "25-1218-B1" },
      ],
      people: ["Ana", "Íñigo Peña", "Łucja"],
      broadcast: null,
    },
    sheet: { sheet: BASE, version: 3, since: recordAt(-400), changedAt: [recordAt(9)], photos: [] },
    probes: [
      {
        probe: "slip-1/slab",
        place: "at the big door",
        xM: 1.2,
        yM: 0.4,
        accuracy: 0.5,
        movedAt: null,
        retiredAt: null,
      },
      {
        probe: "slip-1/slab.2",
        place: "mid bay",
        xM: 6,
        yM: 4,
        accuracy: 0.5,
        movedAt: recordAt(-20),
        retiredAt: null,
      },
      { probe: "slip-1/air", place: null, xM: null, yM: null, accuracy: 0.3, movedAt: null, retiredAt: null },
      { probe: "slip-1/rh", place: null, xM: null, yM: null, accuracy: 2, movedAt: null, retiredAt: null },
    ],
    conditions: columns(),
    limits: [
      limit("slab-cold", "pour", 10, 12.6, "C", "met", 0.2),
      limit("slab-hot", "pour", 32, 15.1, "C", "met", 2.5),
      limit("air-cold", "pour", 10, 11.9, "C", "met", 0),
      limit("air-hot", "pour", 32, 15.4, "C", "met", 2.5),
      limit("air-damp", "pour", 85, 74, "%RH", "met", 0),
      limit("dew-margin", "pour", 3, 5.2, "K", "met", 0.4),
      limit("dew-margin", "dew-sensitive", 3, -0.4, "K", "not-met", 17.5, 412),
      limit("slab-cold", "dew-sensitive", 10, null, "C", "unknown", null),
      limit("resin-cold", "pour", 18, 20.5, "C", "met", -1),
      limit("slab-rh", "before", 85, 78, "%RH", "met", -25),
    ],
    before: null,
    after: passage,
    calls: [
      call(-30, -6, "wait", "not-sustained", [reason("not-sustained", "stop", 22, 60, "min")]),
      call(-6, -2, "pour", null, [reason("dew-margin", "caution", 3.6, 3, "K", "slip-1/slab")]),
      call(-2, 0, "wait", "night-dew", [
        reason("night-dew", "stop", 0.8, 3, "K", "slip-1/slab"),
        reason("slab-rising", "caution", 0.9, 1, "K/h", "slip-1/slab.2"),
      ]),
      call(0, 2.5, "pour", null, [reason("night-dew", "caution", 0.8, 3, "K", "slip-1/slab")]),
      call(2.5, 17.9, "wait", "cure-short", [reason("cure-short", "stop", 0.02, 1, "1")]),
      call(
        17.9,
        null,
        "abrade",
        "blush",
        [reason("blush", "stop", 15, 15, "min", "slip-1/slab"), reason("inspect-due", "stop", 412, 15, "min")],
        ["wash", "abrade", "clean"],
      ),
    ],
    overrides: [
      {
        entry: "e-7",
        at: recordAt(-0.5),
        by: "Ana",
        call: "pour",
        why: "Night low will be held by the heater; owner's representative was told.",
        stood: { call: "wait", limiting: "night-dew", at: recordAt(-2) },
      },
    ],
    handReadings: [
      {
        entry: "e-6",
        at: recordAt(-1),
        by: "Ana",
        instrument: "meter 4",
        calibratedOn: "2026-01-12",
        slabC: 12.1,
        airC: 13.4,
        rhPct: 66,
        resinC: 20.5,
        dewPointC: 7.2,
        marginK: 4.9,
      },
    ],
    gaps: [...RECORD_GAPS, RECORD_SLAB_GAP].map(({ fromH, toH, reason: why }) => ({
      from: recordAt(fromH),
      to: recordAt(toH),
      reason: why,
    })),
    faults: [
      { from: recordAt(15), to: recordAt(19.5), probe: "slip-1/rh", kind: "saturated", measured: 99.2, limit: 95 },
    ],
    surfaceWork: of("abraded", "cleaned", "washed"),
    moisture: of("tested"),
    profile: of("profile"),
    adhesion: of("adhesion"),
    photos: of("photographed"),
    heat: [
      {
        entry: "e-5",
        from: recordAt(-12),
        to: null,
        vented: true,
        kW: 60,
        fuel: "propane",
        targetC: null,
        by: "Íñigo Peña",
      },
    ],
    ventilation: [{ entry: "e-11", from: recordAt(12), to: recordAt(13), how: "one door, a hand wide", by: "Ana" }],
    fieldRules: [
      { rule: "conditions-logged", source: null, outcome: "met", facts: { longestGapMin: 5, readings: 31 } },
      {
        rule: "hourly-between-coats",
        source: "US federal guide specification, multi-coat section: hourly log",
        outcome: "not-met",
        facts: { longestGapMin: 105 },
      },
      {
        rule: "hold-48h-before",
        source: "US federal guide specification, resinous flooring: 18 °C from 48 h before",
        outcome: "unknown",
        facts: { lowestC: 9.6, hours: 30 },
      },
      { rule: "probes-enough", source: null, outcome: "met", facts: { probes: 2, wanted: 2 } },
      {
        rule: "batches-recorded",
        source: "US federal guide specification: labelled containers with batch number",
        outcome: "met",
        facts: { batches: 2 },
      },
    ],
    handOver,
    journal,
    heads: [head("2026-02-02", 21, true), head("2026-02-03", 22, true), head("2026-02-04", 23, false)],
    ruleVersions: ["7"],
    notice: [],
  };
}

export function sampleDay(): DaySummaryBody {
  const { overrides, gaps, faults, heads } = sampleRecord();
  const floor = {
    slabColdC: 9.6,
    slabHotC: 15.5,
    airColdC: 8.8,
    airHotC: 17.4,
    rhMaxPct: 88,
    lowestMarginK: 3.2,
    lowestMarginAt: recordAt(7),
  };
  return {
    site: SAMPLE_SITE,
    timezone: SAMPLE_SITE.timezone,
    day: "2026-02-03",
    from: recordAt(-8),
    to: recordAt(16),
    madeAt: recordAt(TO_H),
    zones: [
      {
        zone: "slip",
        name: "Slip",
        poured: [{ coat: 0, sheet: BASE.id, from: recordAt(0), to: recordAt(2.5) }],
        calls: [
          { from: recordAt(-30), to: recordAt(-6), call: "wait", limiting: "not-sustained" },
          { from: recordAt(-6), to: recordAt(-2), call: "pour", limiting: null },
          { from: recordAt(-2), to: recordAt(0), call: "wait", limiting: "night-dew" },
          { from: recordAt(0), to: recordAt(2.5), call: "pour", limiting: null },
          { from: recordAt(2.5), to: recordAt(16), call: "wait", limiting: "cure-short" },
        ],
        ...floor,
        overrides,
        gaps: gaps.slice(0, 1),
        faults,
      },
      {
        zone: "office",
        name: "Office",
        poured: [],
        calls: [{ from: recordAt(-20), to: null, call: "finished", limiting: null }],
        ...floor,
        lowestMarginK: null,
        lowestMarginAt: null,
        overrides: [],
        gaps: [],
        faults: [],
      },
    ],
    entries: RECORD_JOURNAL.filter(({ at }) => at >= recordAt(-8) && at < recordAt(16)),
    heads: heads.slice(0, 2),
    notice: [],
  };
}
