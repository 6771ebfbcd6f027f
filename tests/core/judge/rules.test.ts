// Each rule alone: what makes it stop and caution, with the numbers it shows; and that stricter facts never make it milder.
import { describe, expect, it } from "vitest";
import type { Outcome, RuleId, RuleResult } from "#core/judge/call.ts";
import type { Facts } from "#core/judge/facts.ts";
import { ALL_RULES } from "#core/judge/rules/all.ts";
import { verdictOf } from "#core/judge/verdict.ts";
import type { Doubt, DoubtKind } from "#core/zone/trust/doubt.ts";
import { factsWith, goodFacts } from "../../support/facts.ts";

const NOW = goodFacts.nowMs;
const limits = goodFacts.limits as NonNullable<Facts["limits"]>;
const night = goodFacts.night as NonNullable<Facts["night"]>;
const soon = goodFacts.soon as NonNullable<Facts["soon"]>;

function doubt(kind: DoubtKind, patch: Partial<Doubt> = {}): Doubt {
  return { probe: "n9/slab", kind, sinceMs: NOW - 7000, measured: 12.5, limit: 2.5, ...patch };
}

type Shown = Partial<Omit<RuleResult, "rule" | "outcome">>;
type Row = readonly [rule: RuleId, change: Partial<Facts>, shown: Shown];

/** Changes that make exactly this rule stop. */
const stops: readonly Row[] = [
  ["data-missing", { slabProbes: 0 }, { detail: "slab" }],
  ["data-missing", { airChips: 0 }, { detail: "air" }],
  [
    "data-stale",
    { slabAgeMin: 31 },
    { measured: 31, limit: 30, unit: "min", detail: "slab", sinceMs: NOW - 31 * 60_000 },
  ],
  ["data-stale", { airAgeMin: 32 }, { measured: 32, limit: 30, unit: "min", detail: "air" }],
  ["data-stale", { staleAfterMin: 5 }, { measured: 5.5, limit: 5, unit: "min", detail: "air" }],
  ["data-stale", { unknownVote: "n4/slab" }, { probe: "n4/slab", detail: "silent-probe" }],
  [
    "data-fault",
    { doubts: [doubt("saturated")], airVoices: 0 },
    { probe: "n9/slab", detail: "saturated", sinceMs: NOW - 7000 },
  ],
  ["data-fault", { doubts: [doubt("detached")], slabVoices: 0 }, { probe: "n9/slab", detail: "detached" }],
  ["data-conflict", { doubts: [doubt("conflict")] }, { measured: 12.5, limit: 2.5, unit: "K", detail: "conflict" }],
  [
    "data-conflict",
    { doubts: [doubt("own-dew-point")], airVoices: 0 },
    { measured: 12.5, unit: "K", detail: "own-dew-point" },
  ],
  ["unit-doubt", { doubts: [doubt("unit")], slabVoices: 0 }, { measured: 12.5, unit: "C", probe: "n9/slab" }],
  [
    "unit-doubt",
    { doubts: [doubt("unit", { probe: "n9/rh" })], airVoices: 0 },
    { measured: 12.5, unit: "%RH", probe: "n9/rh" },
  ],
  ["clock-doubt", { doubts: [doubt("clock")], airVoices: 0 }, { measured: 12.5, unit: "s", probe: "n9/slab" }],
  ["sheet-invalid", { sheetDoubt: "e1: cure[0] nonsense" }, { detail: "e1: cure[0] nonsense" }],
  ["record-missing", { recordGap: "not-ground" }, { detail: "not-ground" }],
  ["hold", { heldSinceMs: NOW - 9000 }, { sinceMs: NOW - 9000 }],
  ["filler-soft", { fillerHardInH: 0.7 }, { measured: 0.7, limit: 0, unit: "h" }],
  ["film-soft", { foundSoftMs: NOW - 11_000 }, { sinceMs: NOW - 11_000, detail: "found" }],
  ["cure-short", { recoatEarned: 0.99 }, { measured: 0.99, limit: 1, unit: "1" }],
  ["cure-short", { recoatEarned: null }, { measured: 0, limit: 1, unit: "1" }],
  [
    "blush",
    { dewMin: 17, blushSteps: ["abrade"], blushSinceMs: NOW - 8000 },
    { measured: 17, limit: 15, unit: "min", sinceMs: NOW - 8000 },
  ],
  ["blush", { blushSteps: ["wash"], foundGreasy: true }, { detail: "found", unit: "min" }],
  ["inspect-due", { belowMin: 15 }, { measured: 15, limit: 15, unit: "min", detail: "margin" }],
  ["inspect-due", { gapMin: 30.5 }, { measured: 30.5, limit: 30, unit: "min", detail: "gap" }],
  ["window-closed", { closedSinceMs: NOW - 6000 }, { sinceMs: NOW - 6000 }],
  ["abrasion-stale", { closedSinceMs: NOW - 6000, abradedH: 24.5 }, { measured: 24.5, limit: 24, unit: "h" }],
  ["dust", { dustSinceMs: NOW - 5000 }, { sinceMs: NOW - 5000, detail: null }],
  ["dust", { dustSinceMs: NOW - 5000, foundDusty: true }, { detail: "found" }],
  [
    "frost",
    { slabColdC: -1.5, frostPointC: -1.4, limits: { ...limits, slabC: [null, 32] } },
    { measured: -1.5, limit: -1.4, unit: "C", probe: "n1/slab" },
  ],
  [
    "condensing",
    { marginK: 0, limits: { ...limits, dewMarginK: -1 } },
    { measured: 0, limit: 0, unit: "K", probe: "n1/slab" },
  ],
  [
    "surface-damp",
    { waterLeftGPerM2: 2.1, dampSinceMs: NOW - 4000 },
    { measured: 2.1, limit: 2, unit: "g/m2", sinceMs: NOW - 4000 },
  ],
  ["surface-damp", { foundDamp: true }, { detail: "found" }],
  ["slab-cold", { slabColdC: 9.9 }, { measured: 9.9, limit: 10, unit: "C", probe: "n1/slab" }],
  ["slab-hot", { slabHotC: 32.1 }, { measured: 32.1, limit: 32, unit: "C", probe: "n2/slab" }],
  ["air-cold", { airMinC: 10.9 }, { measured: 10.9, limit: 11, unit: "C" }],
  ["air-hot", { airMaxC: 34.1 }, { measured: 34.1, limit: 34, unit: "C" }],
  ["air-damp", { rhMaxPct: 85.1 }, { measured: 85.1, limit: 85, unit: "%RH" }],
  ["air-damp", { waterMaxGPerKg: 15.3 }, { measured: 15.3, limit: 15.2, unit: "g/kg" }],
  ["air-dry", { rhMinPct: 28.9 }, { measured: 28.9, limit: 29, unit: "%RH" }],
  ["vapour-low", { waterGPerKg: 4.0 }, { measured: 4, limit: 4.1, unit: "g/kg" }],
  ["dew-margin", { marginK: 3.05 }, { measured: 3.05, limit: 3.1, unit: "K", probe: "n1/slab" }],
  ["slab-rising", { slopeKPerH: 1.1 }, { measured: 1.1, limit: 1, unit: "K/h", probe: "n3/slab" }],
  ["slab-moisture", { slabRhPct: 79.5 }, { measured: 79.5, limit: 79, unit: "%RH", detail: "F2170" }],
  ["slab-moisture", { slabMverLb: 3.4 }, { measured: 3.4, limit: 3.3, unit: "lb", detail: "F1869" }],
  ["slab-moisture", { slabRhPct: null }, { measured: null, limit: 79, unit: "%RH" }],
  ["resin-temp", { resinC: 17.9 }, { measured: 17.9, limit: 18, unit: "C", sinceMs: NOW - 42 * 60_000 }],
  ["resin-temp", { resinC: 31.5 }, { measured: 31.5, limit: 31, unit: "C" }],
  ["resin-temp", { resinC: 20, dewPointC: 20.5 }, { measured: 20, limit: 20.5, detail: "below-dew-point" }],
  ["hand-check", { marginUncertaintyK: 7.9 }, { limit: 3.1, unit: "K", probe: "n1/slab" }],
  ["hand-check", { handMarginK: 3.0 }, { measured: 3, limit: 3.1, unit: "K", detail: "hand" }],
  ["not-sustained", { sustainedMin: 59 }, { measured: 59, limit: 60, unit: "min" }],
  ["not-sustained", { sustainedMin: null }, { measured: null, limit: 60, unit: "min" }],
  ["finish-late", { finishInH: 8.8 }, { measured: 8.8, limit: 8.75, unit: "h", detail: "83" }],
  ["night-unknown", { night: null }, { measured: 14.3, limit: 3, unit: "h" }],
  ["night-unknown", { night: null, nightHours: null }, { measured: null, limit: 3, unit: "h" }],
  [
    "night-dew",
    { night: { ...night, chanceMargin: 0.89, chanceHolds: 0.89 } },
    { measured: 5.05, limit: 3.1, unit: "K", sinceMs: night.lowestAtMs },
  ],
  [
    "night-cold",
    { night: { ...night, chanceSlab: 0.89, chanceHolds: 0.89 } },
    { measured: 13.2, limit: 10, unit: "C" },
  ],
  [
    "night-dew",
    { night: { ...night, chanceMargin: 0.94, chanceSlab: 0.95, chanceHolds: 0.89 } },
    { measured: 5.05, unit: "K" },
  ],
  [
    "night-cold",
    { night: { ...night, chanceMargin: 0.95, chanceSlab: 0.94, chanceHolds: 0.89 } },
    { measured: 13.2, unit: "C" },
  ],
];

/** Changes that make this rule a caution and leave the call a pour. */
const cautions: readonly Row[] = [
  ["data-missing", { slabProbes: 0, handStandsIn: true }, { detail: "slab" }],
  ["data-stale", { slabAgeMin: 16 }, { measured: 16, limit: 30, unit: "min" }],
  ["data-stale", { slabAgeMin: 99, handStandsIn: true }, { measured: 99, limit: 30 }],
  ["data-fault", { doubts: [doubt("saturated")] }, { detail: "saturated" }],
  ["data-fault", { doubts: [doubt("sun-struck")] }, { detail: "sun-struck" }],
  ["data-conflict", { doubts: [doubt("own-dew-point")] }, { detail: "own-dew-point" }],
  ["clock-doubt", { doubts: [doubt("clock")] }, { probe: "n9/slab" }],
  ["cure-short", { recoatEarned: 1.05 }, { measured: 1.05 }],
  ["cure-short", { recoatEstimated: true }, { detail: "estimate" }],
  ["blush", { dewMin: 14 }, { measured: 14, limit: 15 }],
  ["inspect-due", { belowMin: 14 }, { measured: 14, limit: 15 }],
  ["abrasion-stale", { closedSinceMs: NOW - 6000, abradedH: 21.5 }, { measured: 21.5, limit: 24 }],
  ["abrasion-stale", { film: false, abradedH: 25 }, { measured: 25, limit: 24 }],
  ["surface-damp", { waterLeftGPerM2: 1.9 }, { measured: 1.9, limit: 2 }],
  ["slab-cold", { slabColdC: 12.1 }, { measured: 12.1, limit: 10 }],
  ["slab-cold", { soon: { ...soon, slabColdC: 9.9 } }, { measured: 16.1, limit: 10 }],
  ["slab-hot", { slabHotC: 30 }, { measured: 30, limit: 32 }],
  ["slab-hot", { soon: { ...soon, slabHotC: 32.5 } }, { measured: 19.2, limit: 32 }],
  ["air-cold", { airMinC: 12 }, { measured: 12, limit: 11 }],
  ["air-hot", { airMaxC: 33 }, { measured: 33, limit: 34 }],
  ["air-damp", { rhMaxPct: 80 }, { measured: 80, limit: 85 }],
  ["air-damp", { waterMaxGPerKg: 14.8 }, { measured: 14.8, limit: 15.2, unit: "g/kg" }],
  ["air-dry", { rhMinPct: 31 }, { measured: 31, limit: 29 }],
  ["vapour-low", { waterGPerKg: 4.6 }, { measured: 4.6, limit: 4.1 }],
  ["dew-margin", { marginK: 4 }, { measured: 4, limit: 3.1 }],
  ["dew-margin", { soon: { ...soon, marginK: 3 } }, { detail: "falling" }],
  ["slab-rising", { slopeKPerH: 0.9 }, { measured: 0.9, limit: 1 }],
  ["slab-moisture", { slabRhPct: 75 }, { measured: 75, limit: 79 }],
  ["resin-temp", { resinC: 5, resinAgeMin: 121 }, { detail: "old" }],
  ["hand-check", { marginUncertaintyK: 7.9, handMarginK: 3.2 }, { limit: 3.1 }],
  ["finish-late", { finishInH: 8.5 }, { measured: 8.5, limit: 8.75 }],
  ["night-unknown", { night: null, nightHours: 2.9 }, { measured: 2.9, limit: 3 }],
  ["night-dew", { night: { ...night, lowestMarginK: 4 } }, { measured: 4, limit: 3.1 }],
  ["night-cold", { night: { ...night, lowestSlabC: 10.5 } }, { measured: 10.5, limit: 10 }],
];

const resultOf = (facts: Facts, rule: RuleId) =>
  verdictOf(facts).rules.find((result) => result.rule === rule) as RuleResult;

describe("the good facts", () => {
  it("give pour, with every rule passing", () => {
    const verdict = verdictOf(goodFacts);
    expect(verdict).toMatchObject({ call: "pour", limiting: null, steps: [] });
    expect(verdict.rules.filter((rule) => rule.outcome !== "pass")).toEqual([]);
  });

  it("share no value that counts", () => {
    const numbers = Object.entries({ ...goodFacts, ...limits, ...soon, ...night }).flatMap(([, value]) =>
      Array.isArray(value) ? (value as unknown[]) : [value],
    );
    const counted = numbers.filter((value): value is number => typeof value === "number" && value !== 0);
    expect(counted.length).toBeGreaterThan(45);
    expect(new Set(counted).size).toBe(counted.length);
  });
});

describe("a rule stops alone", () => {
  it.each(stops)("%s %j", (rule, change, shown) => {
    const verdict = verdictOf(factsWith(change));
    expect(verdict.rules.filter((result) => result.outcome === "stop").map((result) => result.rule)).toEqual([rule]);
    expect(verdict.limiting).toBe(rule);
    expect(resultOf(factsWith(change), rule)).toMatchObject(shown);
  });

  it("is shown for every rule", () => {
    expect(new Set(stops.map(([rule]) => rule))).toEqual(new Set(ALL_RULES.map((rule) => rule.id)));
  });
});

describe("a rule cautions", () => {
  it.each(cautions)("%s %j", (rule, change, shown) => {
    const verdict = verdictOf(factsWith(change));
    expect(verdict.call).toBe("pour");
    expect(resultOf(factsWith(change), rule)).toMatchObject({ outcome: "caution", ...shown });
  });
});

describe("what is not known", () => {
  const unknowns: readonly (readonly [RuleId, Partial<Facts>])[] = [
    ["slab-cold", { slabColdC: null }],
    ["slab-hot", { slabHotC: Number.NaN }],
    ["air-damp", { rhMaxPct: null }],
    ["air-cold", { airMinC: null }],
    ["slab-rising", { slopeKPerH: null }],
    ["resin-temp", { resinC: null, resinAgeMin: null }],
    ["dew-margin", { marginK: null, handStandsIn: true }],
    ["not-sustained", { sustainedMin: null, handStandsIn: true }],
  ];
  it.each(unknowns)("%s says so", (rule, change) => {
    expect(resultOf(factsWith(change), rule).outcome).toBe("unknown");
  });

  it("a margin that live voices do not give is no pour", () => {
    expect(verdictOf(factsWith({ marginK: null }))).toMatchObject({ call: "wait", limiting: "data-stale" });
  });
});

describe("stricter facts never make a rule milder", () => {
  const order: Record<Exclude<Outcome, "unknown">, number> = { pass: 0, caution: 1, stop: 2 };
  const bases = [goodFacts, ...[...stops, ...cautions].map(([, change]) => factsWith(change))];
  const directions = ALL_RULES.flatMap((rule) => rule.stricter.map((stricter) => ({ rule, ...stricter })));

  function stricter(fact: string, value: unknown, towards: string): unknown[] {
    if (towards === "true" || towards === "false") return typeof value === "boolean" ? [towards === "true"] : [];
    if (typeof value !== "number") return [];
    const sign = towards === "higher" ? 1 : -1;
    if (/Voices|Probes|Chips/.test(fact)) return value > 0 ? [value - 1, 0] : [];
    return [0.01, 0.3, 1, 2.5, 7, 30, 400].map((step) => value + sign * step);
  }

  it.each(directions)("$rule.id: $fact towards $towards", ({ rule, fact, towards }) => {
    let moves = 0;
    for (const base of bases) {
      const before = rule.judge(base).outcome;
      for (const value of stricter(fact, base[fact], towards)) {
        moves++;
        const after = rule.judge({ ...base, [fact]: value }).outcome;
        if (before === "unknown" || after === "unknown") expect(after).toBe(before);
        else
          expect(order[after], `${fact} ${String(base[fact])} -> ${String(value)}`).toBeGreaterThanOrEqual(
            order[before],
          );
      }
    }
    expect(moves).toBeGreaterThan(0);
  });

  it("is declared by every rule that looks at a number of the readings", () => {
    const undeclared = ALL_RULES.filter((rule) => rule.stricter.length === 0).map((rule) => rule.id);
    expect(undeclared).toEqual([
      "sheet-invalid",
      "record-missing",
      "hold",
      "dust",
      "resin-temp",
      "night-dew",
      "night-cold",
    ]);
  });
});
