// What published documents, and the trade, ask of the work in the field: each rule with its source, met or not for a coat.
import type { JournalEntry } from "#core/zone/journal.ts";
import type { Outcome } from "#core/record/limits-held.ts";
import { m2FromFt2 } from "#core/units.ts";

const HOUR_MS = 3_600_000;
/** 65 °F, the floor temperature of the guide specification. */
const HOLD_C = ((65 - 32) * 5) / 9;
const HOLD_H = 48;
const THOUSAND_FT2_M2 = m2FromFt2(1000);

export type FieldRuleId =
  | "conditions-logged"
  | "conditions-before"
  | "probes-enough"
  | "hand-readings"
  | "hourly-between-coats"
  | "hold-48h-before"
  | "moisture-tests"
  | "moisture-spots"
  | "profile-recorded"
  | "adhesion-recorded"
  | "batches-recorded"
  | "cleaned-before"
  | "photographed";

export interface FieldRule {
  readonly rule: FieldRuleId;
  /** null: common practice, no source. */
  readonly source: string | null;
  readonly outcome: Outcome;
  readonly facts: Readonly<Record<string, number | string | null>>;
}

/** What the rules look at; times in epoch ms, `before` = up to the start of the pour. */
export interface FieldFacts {
  readonly coat: number;
  readonly porous: boolean;
  readonly areaM2: number;
  readonly fromMs: number;
  readonly toMs: number;
  readonly slabProbes: number;
  readonly airChips: number;
  /** Longest gap of the conditions from the pour until past dew, and in the hour before; null = nothing was read at all. */
  readonly longestGapMin: number | null;
  readonly longestGapBeforeMin: number | null;
  /** Longest gap of the slab between the coat before and this one; null on the first coat. */
  readonly longestGapBetweenMin: number | null;
  /** Coldest slab of the 48 h before the pour, and hours of them that were read. */
  readonly coldestBeforeC: number | null;
  readonly readBeforeH: number;
  readonly batches: number;
  /** Entries of the zone up to the end of the record. */
  readonly entries: readonly JournalEntry[];
}

const AMBIENT =
  "ISO 8502-4 and ASTM D3276: air, humidity, surface and dew point before, during and after (from memory)";
const RECOAT = "US federal guide specification, multi-coat sections: surface temperature logged hourly between coats";
const HOLD = "US federal guide specification, resinous flooring: at least 65 °F from 48 h before";
const MOISTURE =
  "ASTM F2170 and F1869: three tests in the first 1000 ft2 and one for each further 1000 ft2 (from memory)";
const PROFILE = "ICRI 310.2R: profile agreed and recorded (from memory)";
const ADHESION = "ASTM D7234 on concrete, D4541 on metal (from memory)";
const BATCHES = "US federal guide specification, resinous flooring: containers with batch number and date";

const met = (is: boolean): Outcome => (is ? "met" : "not-met");

function gapRule(rule: FieldRuleId, source: string, gapMin: number | null, limitMin: number): FieldRule {
  return {
    rule,
    source,
    outcome: gapMin === null ? "not-met" : met(gapMin <= limitMin),
    facts: { longestGapMin: gapMin, limitMin },
  };
}

function handReadings(facts: FieldFacts): FieldRule {
  const full = facts.entries.flatMap((entry) =>
    entry.did === "measured" && entry.slabC !== undefined && entry.airC !== undefined && entry.rhPct !== undefined
      ? [entry]
      : [],
  );
  const within = (fromMs: number, toMs: number) => full.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs);
  const before = within(facts.fromMs - 2 * HOUR_MS, facts.fromMs);
  const during = within(facts.fromMs + 1, facts.toMs + HOUR_MS);
  return {
    rule: "hand-readings",
    source: null,
    outcome: met(before.length > 0 && during.length > 0),
    facts: {
      before: before.length,
      duringOrAtFinish: during.length,
      withCalibration: [...before, ...during].filter(({ calibratedOn }) => calibratedOn !== undefined).length,
    },
  };
}

/** Slab probes that a zone of this area should have: two up to 1000 ft2, one more for each further 1000 ft2. */
function probesWanted(areaM2: number): number {
  return Math.max(2, 1 + Math.ceil(areaM2 / THOUSAND_FT2_M2));
}

function spotsWanted(areaM2: number): number {
  return 3 + Math.max(0, Math.ceil(areaM2 / THOUSAND_FT2_M2) - 1);
}

function surfaceRules(facts: FieldFacts): FieldRule[] {
  const before = facts.entries.filter(({ atMs }) => atMs <= facts.fromMs);
  const last = (did: JournalEntry["did"]) => before.filter((entry) => entry.did === did).at(-1) ?? null;
  const abradedMs = last("abraded")?.atMs ?? Number.NEGATIVE_INFINITY;
  const clean = before
    .filter((entry) => entry.did === "cleaned" || (entry.did === "inspected" && entry.surface === "clean"))
    .at(-1);
  const hoursBefore = clean === undefined ? null : (facts.fromMs - clean.atMs) / HOUR_MS;
  const photos = facts.entries.filter((entry) => entry.did === "photographed").length;
  return [
    {
      rule: "cleaned-before",
      source: null,
      outcome: met(clean !== undefined && clean.atMs >= abradedMs && (hoursBefore as number) <= 24),
      facts: { hoursBefore, limitH: 24 },
    },
    { rule: "photographed", source: null, outcome: met(photos > 0), facts: { photos } },
  ];
}

/** Rules of the bare slab: they are asked once, of the first coat. */
function slabRules(facts: FieldFacts): FieldRule[] {
  if (facts.coat !== 0 || !facts.porous) return [];
  const before = facts.entries.filter(({ atMs }) => atMs <= facts.fromMs);
  const tests = before.flatMap((entry) => (entry.did === "tested" ? [entry] : []));
  const spots = new Set(tests.map(({ spot, id }) => spot ?? id)).size;
  const profiles = before.flatMap((entry) => (entry.did === "profile" ? [entry] : []));
  const pulls = facts.entries.flatMap((entry) => (entry.did === "adhesion" ? [entry] : []));
  const wanted = spotsWanted(facts.areaM2);
  return [
    { rule: "moisture-tests", source: MOISTURE, outcome: met(tests.length > 0), facts: { tests: tests.length } },
    { rule: "moisture-spots", source: MOISTURE, outcome: met(spots >= wanted), facts: { spots, wanted } },
    {
      rule: "profile-recorded",
      source: PROFILE,
      outcome: met(profiles.length > 0),
      facts: { profiles: profiles.length },
    },
    {
      rule: "adhesion-recorded",
      source: ADHESION,
      outcome: met(pulls.length > 0),
      facts: { tests: pulls.length, lowestMpa: pulls.length > 0 ? Math.min(...pulls.map(({ mpa }) => mpa)) : null },
    },
  ];
}

function holdRule({ coldestBeforeC, readBeforeH }: FieldFacts): FieldRule {
  const warm = coldestBeforeC !== null && coldestBeforeC >= HOLD_C;
  // An hour is left for readings that do not fall on the hour.
  const read = readBeforeH >= HOLD_H - 1;
  return {
    rule: "hold-48h-before",
    source: HOLD,
    outcome: coldestBeforeC !== null && !warm ? "not-met" : read ? "met" : "unknown",
    facts: { coldestC: coldestBeforeC, limitC: HOLD_C, readH: readBeforeH, wantedH: HOLD_H },
  };
}

/** Every rule that bears on the coat. They are shown, and judge nothing: the contract says which of them are asked. */
export function fieldRules(facts: FieldFacts): FieldRule[] {
  const probes = probesWanted(facts.areaM2);
  const between = facts.longestGapBetweenMin;
  return [
    gapRule("conditions-logged", AMBIENT, facts.longestGapMin, 30),
    gapRule("conditions-before", AMBIENT, facts.longestGapBeforeMin, 30),
    {
      rule: "probes-enough",
      source: null,
      outcome: met(facts.slabProbes >= probes && facts.airChips >= 1),
      facts: { slabProbes: facts.slabProbes, wanted: probes, airChips: facts.airChips },
    },
    handReadings(facts),
    ...(facts.coat === 0 ? [] : [gapRule("hourly-between-coats", RECOAT, between, 60)]),
    holdRule(facts),
    ...slabRules(facts),
    { rule: "batches-recorded", source: BATCHES, outcome: met(facts.batches > 0), facts: { batches: facts.batches } },
    ...surfaceRules(facts),
  ];
}
