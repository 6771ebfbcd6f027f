// The order of judgement: the first stage that stops decides, within a stage the order of the list.
import { describe, expect, it } from "vitest";
import { type Outcome, RULE_IDS, type RuleId } from "#core/judge/call.ts";
import type { Facts } from "#core/judge/facts.ts";
import { ALL_RULES, STAGES, stageOf } from "#core/judge/rules/all.ts";
import { verdictOf } from "#core/judge/verdict.ts";
import { factsWith, goodFacts } from "../../support/facts.ts";

const limits = goodFacts.limits as NonNullable<Facts["limits"]>;
const night = goodFacts.night as NonNullable<Facts["night"]>;
const doubt = (kind: "saturated" | "conflict" | "unit" | "clock") => ({
  probe: "n9/slab",
  kind,
  sinceMs: 1,
  measured: 2,
  limit: 3,
});

/** For each rule one change of facts that stops it; changes of two rules can be made together, facts merged. */
const stopping: Partial<Record<RuleId, Partial<Facts>>> = {
  "data-missing": { slabProbes: 0 },
  "data-stale": { unknownVote: "n4/slab" },
  "data-fault": { doubts: [doubt("saturated")], airVoices: 0 },
  "data-conflict": { doubts: [doubt("conflict")] },
  "unit-doubt": { doubts: [doubt("unit")], slabVoices: 0 },
  "clock-doubt": { doubts: [doubt("clock")], airVoices: 0 },
  "sheet-invalid": { sheetDoubt: "nonsense" },
  "record-missing": { recordGap: "not-ground" },
  hold: { heldSinceMs: 5 },
  "filler-soft": { fillerHardInH: 0.7 },
  "film-soft": { foundSoftMs: 6 },
  "cure-short": { recoatEarned: 0.9 },
  blush: { blushSteps: ["wash", "abrade"], blushSinceMs: 8 },
  "inspect-due": { belowMin: 20 },
  "window-closed": { closedSinceMs: 9 },
  dust: { dustSinceMs: 10 },
  "surface-damp": { foundDamp: true },
  "slab-cold": { slabColdC: 9.5 },
  "slab-hot": { slabHotC: 33 },
  "air-cold": { airMinC: 10 },
  "air-hot": { airMaxC: 35 },
  "air-damp": { rhMaxPct: 90 },
  "air-dry": { rhMinPct: 20 },
  "vapour-low": { waterGPerKg: 3 },
  condensing: { marginK: -0.5 },
  "slab-rising": { slopeKPerH: 2 },
  "slab-moisture": { slabRhPct: 95 },
  "resin-temp": { resinC: 12 },
  "hand-check": { handMarginK: 1 },
  "not-sustained": { sustainedMin: 12 },
  "finish-late": { finishInH: 9 },
  "night-dew": { night: { ...night, chanceMargin: 0.2, chanceHolds: 0.2 } },
};
const changes = Object.entries(stopping) as [RuleId, Partial<Facts>][];
const merged = (a: Partial<Facts>, b: Partial<Facts>) =>
  factsWith({ ...a, ...b, doubts: [...(a.doubts ?? []), ...(b.doubts ?? [])] });

describe("the list of rules", () => {
  it("is one list, here and in the call", () => {
    expect(ALL_RULES.map((rule) => rule.id)).toEqual([...RULE_IDS]);
    expect(STAGES.map(({ stage }) => stage)).toEqual([
      "data",
      "record",
      "film",
      "surface",
      "conditions",
      "plan",
      "night",
    ]);
    expect(verdictOf(goodFacts).rules.map((result) => result.rule)).toEqual([...RULE_IDS]);
  });

  it("says of every rule where it comes from", () => {
    expect(ALL_RULES.filter((rule) => rule.source.length < 5)).toEqual([]);
  });
});

describe("of two stops", () => {
  const pairs = changes.flatMap(([a, x], index) =>
    changes.slice(index + 1).map(([b, y]) => ({ a, b, facts: merged(x, y) })),
  );

  it("the earlier in the list limits and decides, and both are reported", () => {
    expect(pairs.length).toBeGreaterThan(450);
    for (const { a, b, facts } of pairs) {
      const verdict = verdictOf(facts);
      const stopped = verdict.rules.filter((result) => result.outcome === "stop").map((result) => result.rule);
      const first = RULE_IDS.indexOf(a) < RULE_IDS.indexOf(b) ? a : b;
      // A window that closes over a film that is still soft: the softness is the first thing to read.
      const soft = a === "cure-short" && b === "window-closed";
      expect(verdict.limiting, `${a} and ${b}`).toBe(soft ? "film-soft" : first);
      expect(verdict.call).toBe(ALL_RULES.find((rule) => rule.id === verdict.limiting)?.calls);
      // A margin below its limit leaves nothing to check by hand.
      if (!(a === "condensing" && b === "hand-check")) expect(stopped).toEqual(expect.arrayContaining([a, b]));
    }
  });

  it("the earlier stage decides: never abrade over doubtful data, record or a soft film", () => {
    for (const [rule, change] of changes) {
      const verdict = verdictOf(merged(stopping.blush as Partial<Facts>, change));
      const before = ["data", "record", "film"].includes(stageOf(rule));
      expect(verdict.call, rule).toBe(before ? "wait" : "abrade");
      expect(verdict.limiting).toBe(before ? rule : "blush");
    }
  });

  it("shows what still blocks the pour beside a closed window", () => {
    const verdict = verdictOf(factsWith({ closedSinceMs: 9, airMinC: 10 }));
    expect(verdict).toMatchObject({ call: "abrade", limiting: "window-closed", steps: ["abrade", "clean"] });
    expect(verdict.rules.find((result) => result.rule === "air-cold")?.outcome).toBe("stop");
  });
});

const outcomeOf = (facts: Facts, rule: RuleId): Outcome | undefined =>
  verdictOf(facts).rules.find((result) => result.rule === rule)?.outcome;

describe("while pouring", () => {
  const demoted: RuleId[] = ["hand-check", "not-sustained", "finish-late", "night-dew"];

  it.each(changes)("%s", (rule, change) => {
    const verdict = verdictOf(factsWith({ ...change, pouring: true }));
    const goesOn = demoted.includes(rule);
    expect(outcomeOf(factsWith({ ...change, pouring: true }), rule)).toBe(goesOn ? "caution" : "stop");
    expect(verdict.call).toBe(goesOn ? "pour" : "wait");
  });

  it("an unknown or cold night does not stop it either", () => {
    const cold = { ...night, chanceSlab: 0.1, chanceHolds: 0.1 };
    expect(verdictOf(factsWith({ pouring: true, night: cold })).call).toBe("pour");
    expect(outcomeOf(factsWith({ pouring: true, night: cold }), "night-cold")).toBe("caution");
    expect(outcomeOf(factsWith({ pouring: true, night: null }), "night-unknown")).toBe("caution");
    expect(ALL_RULES.filter((rule) => rule.cautionWhilePouring).map((rule) => rule.id)).toEqual([
      "hand-check",
      "not-sustained",
      "finish-late",
      "night-unknown",
      "night-dew",
      "night-cold",
    ]);
  });
});

describe("after the last coat", () => {
  const finished = (change: Partial<Facts>) => verdictOf(factsWith({ ...change, finished: true }));

  it.each(changes.filter(([rule]) => rule !== "blush"))("%s does not change the call", (_, change) => {
    expect(finished(change)).toMatchObject({ call: "finished", limiting: null, steps: [] });
  });

  it("blush still abrades", () => {
    expect(finished(stopping.blush as Partial<Facts>)).toMatchObject({
      call: "abrade",
      limiting: "blush",
      steps: ["wash", "abrade"],
    });
    expect(finished(merged(stopping.blush as Partial<Facts>, { slabProbes: 0 })).call).toBe("abrade");
  });

  it("but never a soft film", () => {
    const soft = merged(stopping.blush as Partial<Facts>, { recoatEarned: 0.5 });
    expect(verdictOf({ ...soft, finished: true })).toMatchObject({ call: "finished", limiting: null });
    const found = merged(stopping.blush as Partial<Facts>, { foundSoftMs: 7 });
    expect(verdictOf({ ...found, finished: true }).call).toBe("finished");
  });

  it("dew, cold, gap and data rules go on and are shown", () => {
    const shown = (change: Partial<Facts>, rule: RuleId) =>
      finished(change).rules.find((result) => result.rule === rule)?.outcome;
    for (const rule of ["data-fault", "condensing", "inspect-due", "slab-cold", "cure-short", "hold"] as const) {
      expect(shown(stopping[rule] as Partial<Facts>, rule), rule).toBe("stop");
    }
    expect(shown({ marginK: 2 }, "dew-margin")).toBe("stop");
    for (const rule of ["air-cold", "finish-late", "night-dew", "resin-temp", "window-closed"] as const) {
      expect(shown(stopping[rule] as Partial<Facts>, rule), rule).toBe("pass");
    }
    expect(limits.dewMarginK).toBe(3.1);
  });
});
