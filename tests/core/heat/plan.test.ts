// The heat plan over the night files: choices judged as the live judge would, the window saved or honestly not.
import { describe, expect, it } from "vitest";
import { heatPlan } from "#core/heat/plan.ts";
import type { HeatChoice, HeatPlan, HeatQuestion } from "#core/heat/question.ts";
import { abradingHours } from "#core/heat/save-window.ts";
import { thinned } from "#core/heat/thin.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import { readCase } from "../../support/cases.ts";

const QUESTION: HeatQuestion = {
  heater: { kW: 40, fuel: "propane", vented: true },
  targetC: 20,
  fromMs: null,
  building: { class: "tight", floorM2: 120, heightM: 4 },
};
const HOUR_MS = 3_600_000;

function answerOf(file: string, more: Partial<HeatQuestion> = {}) {
  const { log, ask } = readCase(file);
  const { zone, atMs } = ask[0] as { zone: string; atMs: number };
  return { log, zone, atMs, answer: heatPlan(log, zone, atMs, { ...QUESTION, ...more }) };
}
function planOf(file: string, more: Partial<HeatQuestion> = {}): HeatPlan {
  const { answer } = answerOf(file, more);
  if (!answer.ok) throw new Error(answer.why);
  return answer.plan;
}
const named = (plan: HeatPlan, name: HeatChoice["plan"]) =>
  plan.choices.find((choice) => choice.plan === name) as HeatChoice;

describe("the four choices", () => {
  // Nights of a bare slab before a damp dawn, of films that open, close, and have closed.
  const FILES = ["01.json", "02.json", "04.json", "12.json", "20.json", "25.json", "26.json"];
  const plans = FILES.map((file) => ({ file, ...answerOf(file), plan: planOf(file) }));

  it.each(plans)("$file: no heat is the call of the live judge, at no cost", ({ log, zone, atMs, plan }) => {
    const without = named(plan, "no-heat");
    expect(without.callNow).toBe(judgeZone(log, zone, atMs).call.call);
    expect(without).toMatchObject({ fromMs: null, toMs: null, targetC: null, heatKWh: 0, fuel: null, waterKg: 0 });
  });

  it.each(plans)("$file: heat warms, costs, and more of it costs more", ({ plan, atMs }) => {
    const [without, now, later, coast] = plan.choices as [HeatChoice, HeatChoice, HeatChoice, HeatChoice];
    expect(plan.choices).toHaveLength(4);
    expect([now.fromMs, now.toMs, later.fromMs]).toEqual([atMs, null, atMs + 6 * HOUR_MS]);
    expect(coast.toMs as number).toBeGreaterThanOrEqual(atMs + HOUR_MS);
    expect(now.heatKWh).toBeGreaterThan(later.heatKWh);
    expect(now.heatKWh).toBeGreaterThan(coast.heatKWh);
    expect(coast.heatKWh).toBeGreaterThan(0);
    for (const choice of [now, later, coast]) {
      expect(choice.highestSlabC).toBeGreaterThanOrEqual(without.highestSlabC - 1e-9);
      expect(choice.fuel?.kg).toBeGreaterThan(0);
      // Vented heat adds no water, so no margin is lost by it.
      for (const [index, marginK] of choice.course.marginK.entries())
        expect(marginK).toBeGreaterThanOrEqual((without.course.marginK[index] as number) - 1e-6);
      const [low, middle, high] = choice.lowestMarginK;
      expect(low).toBeLessThanOrEqual(middle);
      expect(middle).toBeLessThanOrEqual(high);
    }
    expect(now.slabAfterC.map(({ hours }) => hours)).toEqual([4, 8, 12, 24]);
  });

  it.each(plans)("$file: the answer about the window agrees with the choices", ({ plan }) => {
    const { answer, choice, abrading } = plan.saveWindow;
    const saving = plan.choices.filter(({ savesWindow }) => savesWindow).map(({ heatKWh }) => heatKWh);
    expect(answer === "no-film").toBe(named(plan, "no-heat").film === null);
    if (answer === "yes") {
      expect(named(plan, "no-heat").savesWindow).toBe(false);
      const saver = plan.choices[choice as number];
      expect(saver?.heatKWh).toBe(Math.min(...saving));
      expect(saver?.film?.chanceLost).toBeLessThan(0.1);
      expect(saver?.pour).not.toBeNull();
    }
    if (answer === "no") expect([saving, choice]).toEqual([[], null]);
    if (answer === "holds-without-heat") expect(choice).toBe(0);
    expect(abrading !== null).toBe(answer === "yes" || answer === "no");
  });

  it("a film opens earlier and closes no later under heat: both clocks run faster in the warmth", () => {
    const plan = planOf("25.json");
    const [without, now] = [named(plan, "no-heat").film, named(plan, "heat-now").film];
    expect(now?.opens.likelyMs as number).toBeLessThan(without?.opens.likelyMs as number);
    expect(now?.closes.likelyMs as number).toBeLessThanOrEqual(without?.closes.likelyMs as number);
  });

  it("a damp dawn that forbids the coat is overcome by enough heat, and not by a hand warmer", () => {
    const strong = planOf("02.json");
    expect(named(strong, "no-heat").callNow).toBe("wait");
    expect(named(strong, "no-heat").pour?.chance ?? 0).toBeLessThan(0.5);
    expect(named(strong, "heat-now").pour?.chance ?? 0).toBeGreaterThan(0.9);
    const weak = planOf("02.json", { heater: { kW: 0.05, fuel: "electric", vented: true } });
    expect(named(weak, "heat-now").pour?.chance ?? 0).toBeLessThan(0.5);
  });

  it("a window that has closed stays closed, and its abrading is told", () => {
    const { answer, abrading } = planOf("26.json").saveWindow;
    expect(answer).toBe("no");
    // 80 m²: 80/28 + 36/15 and 80/14 + 36/7.6 person-hours; rates of common practice, no source.
    expect(abrading?.areaM2).toBe(80);
    expect(abrading?.personHours[0]).toBeCloseTo(5.24, 2);
    expect(abrading?.personHours[1]).toBeCloseTo(10.42, 2);
    expect(abradingHours(320)[0]).toBeLessThan(4 * abradingHours(80)[0]);
  });

  it("more power never reaches the target later", () => {
    const reached = [5, 10, 20, 40, 80].map((kW) => {
      const choice = named(planOf("04.json", { heater: { kW, fuel: "diesel", vented: true } }), "heat-now");
      return choice.airReachesTargetMs ?? Number.POSITIVE_INFINITY;
    });
    for (let index = 1; index < reached.length; index++)
      expect(reached[index] as number).toBeLessThanOrEqual(reached[index - 1] as number);
    expect(reached.at(-1)).toBeLessThan(Number.POSITIVE_INFINITY);
  });
});

describe("fumes in a tight cold room", () => {
  const burning = { heater: { kW: 25, fuel: "propane", vented: false } } as const;
  const wet = planOf("04.json", burning);
  const dry = planOf("04.json", { heater: { ...burning.heater, vented: true } });

  it("take margin at first, and the plan shows it", () => {
    // Four hours in, at half-hour steps.
    const early = (plan: HeatPlan, name: HeatChoice["plan"]) =>
      Math.min(...named(plan, name).course.marginK.slice(1, 8));
    expect(early(wet, "heat-now")).toBeLessThan(early(wet, "no-heat"));
    expect(early(dry, "heat-now")).toBeGreaterThanOrEqual(early(dry, "no-heat"));
    expect(named(wet, "heat-now").lowestMarginK[1]).toBeLessThan(named(dry, "heat-now").lowestMarginK[1]);
    expect(named(wet, "heat-now").waterKg).toBeGreaterThan(0);
    expect(named(dry, "heat-now").waterKg).toBe(0);
  });

  it("are cautioned against, as flames, circuits and fuel are", () => {
    expect(wet.cautions).toEqual(
      expect.arrayContaining([
        "carbon-monoxide",
        "unvented-fumes",
        "fresh-air",
        "fumes-film",
        "water-into-air",
        "flame-and-solvent",
        "clearances",
        "refuel-cold",
      ]),
    );
    expect(dry.cautions).not.toContain("unvented-fumes");
    expect(dry.cautions).toContain("carbon-monoxide");
    const electric = planOf("02.json", { heater: { kW: 9, fuel: "electric", vented: false } });
    expect(electric.cautions).toEqual(["clearances", "electric-circuits", "rising-slab"]);
    expect(named(electric, "heat-now").fuel).toBeNull();
    // A fuel that nobody named is taken as burning.
    expect(planOf("02.json", { heater: { kW: 9, fuel: "other", vented: false } }).cautions).toContain(
      "carbon-monoxide",
    );
  });
});

describe("what is asked", () => {
  it("a later start is kept to the step; one outside of the outlook is refused", () => {
    const { atMs } = answerOf("04.json");
    expect(named(planOf("04.json", { fromMs: atMs + 3.5 * HOUR_MS }), "heat-from").fromMs).toBe(atMs + 3.5 * HOUR_MS);
    expect(answerOf("04.json", { fromMs: atMs - HOUR_MS }).answer).toEqual({ ok: false, why: "from-past" });
    expect(answerOf("04.json", { fromMs: atMs + 36 * HOUR_MS }).answer).toEqual({ ok: false, why: "from-too-late" });
  });

  it("without anything to look ahead with there is no plan", () => {
    expect(answerOf("06.json").answer).toEqual({ ok: false, why: "no-outlook" });
  });

  it("a building that is not described is rough, around all zones of the site, where nobody logged heat", () => {
    const { building } = planOf("04.json", { building: null });
    expect([building.basis, building.floorM2]).toEqual(["rough", 80]);
  });
});

describe("fewer members", () => {
  const outlook = (count: number): Outlook => ({
    fromMs: 0,
    stepMs: 600_000,
    steps: 3,
    basis: ["two-nights"],
    feedFetchedMs: null,
    members: Array.from({ length: count }, (_, index) => {
      const column = new Float64Array(3).fill(index);
      return { weight: 1 / count, slabColdC: column, slabHotC: column, airC: column, dewPointC: new Float64Array(3) };
    }),
  });

  it("stand for layers of lowest margin, with equal weights that sum to one", () => {
    const { members } = thinned(outlook(200), 40);
    expect(members).toHaveLength(40);
    expect(members.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    const lows = members.map(({ slabColdC }) => slabColdC[0] as number);
    expect(lows).toEqual(Array.from({ length: 40 }, (_, index) => index * 5 + 2));
    const few = outlook(30);
    expect(thinned(few, 40)).toBe(few);
  });
});
