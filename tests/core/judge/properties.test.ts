// The whole call over random nights: what is older, fewer, less certain or shorter never leads towards pour.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Call, RULE_IDS } from "#core/judge/call.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { stageOf } from "#core/judge/rules/all.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { cutSeries, heardBy, shuffled, withoutLast } from "../../support/log-edits.ts";
import { entry, HOUR_MS, MINUTE_MS } from "../../support/night-log.ts";
import { type NightKind, type RandomNight, randomNight } from "../../support/random-night.ts";

const SEED = 20_260_203;
const callAt = (log: SiteLog, nowMs: number): Call => judgeZone(log, "a", nowMs).call;
const stopsOf = (call: Call) => call.rules.filter((rule) => rule.outcome === "stop").map((rule) => rule.rule);

/** Runs `check` on random nights, half of them calm if no kind is given. */
function onNights(runs: number, check: (night: RandomNight) => void, kind: NightKind = {}): void {
  const seeds = fc.integer({ min: 0, max: 2 ** 31 - 1 });
  fc.assert(
    fc.property(seeds, (seed) => check(randomNight(seed, kind))),
    { seed: SEED, numRuns: runs },
  );
}

/** Neither call may be a pour unless `base` is one. */
function neverTowardsPour(base: Call, worse: Call): void {
  if (base.call !== "pour") expect(worse.call, `was ${base.call}: ${stopsOf(base).join(" ")}`).not.toBe("pour");
}

describe("random nights", () => {
  it("are a pour, a wait and an abrade in a good share each", () => {
    const words = { pour: 0, wait: 0, abrade: 0, finished: 0 };
    onNights(70, ({ log, nowMs }) => void words[callAt(log, nowMs).call]++);
    expect(words.pour).toBeGreaterThan(14);
    expect(words.wait).toBeGreaterThan(14);
    expect(words.abrade).toBeGreaterThan(3);
  });
});

describe("the same log", () => {
  it("gives the same call, in whatever order it is listed", () => {
    onNights(30, ({ log, nowMs, random }) => {
      expect(judgeZone(shuffled(log, random), "a", nowMs)).toEqual(judgeZone(log, "a", nowMs));
    });
  });

  it("gives the call that was live then: nothing heard later counts, late packets included", () => {
    onNights(24, ({ log, nowMs, random }) => {
      const thenMs = nowMs - random.between(0, 20) * HOUR_MS;
      expect(judgeZone(log, "a", thenMs)).toEqual(judgeZone(heardBy(log, thenMs), "a", thenMs));
    });
  });

  it("gives after an undoing what it gave without the entry, and before it what it gave with it", () => {
    onNights(25, ({ log, nowMs, random }) => {
      const undone = random.pick(log.journal.filter((item) => item.atMs < nowMs - MINUTE_MS));
      const undoing = entry("undone", nowMs - 30_000, { undoes: undone.id });
      const corrected = { ...log, journal: [...log.journal, undoing] };
      const without = { ...log, journal: log.journal.filter((item) => item !== undone) };
      expect(callAt(corrected, nowMs)).toEqual(callAt(without, nowMs));
      expect(callAt(corrected, undoing.heardMs - 1)).toEqual(callAt(log, undoing.heardMs - 1));
      const restored = {
        ...log,
        journal: [...corrected.journal, entry("undone", nowMs - 20_000, { undoes: undoing.id })],
      };
      expect(callAt(restored, nowMs)).toEqual(callAt(log, nowMs));
    });
  });
});

describe("whatever the sensors say", () => {
  it("there is a call: impossible numbers and jumps are nobody's crash", () => {
    onNights(30, ({ log, nowMs, random }) => {
      const jumpMs = nowMs - random.between(0, 40) * HOUR_MS;
      const series = log.series.map((item) => {
        const [low, high] = item.quantity === "rh" ? [-5, 115] : [-70, 130];
        const [before, after] = [random.between(low, high), random.between(low, high)];
        const steps = random.chance(0.5);
        return {
          ...item,
          values: item.values.map((value, index) => {
            if (!steps) return random.chance(0.03) ? random.between(low, high) : value;
            return (item.atMs[index] as number) < jumpMs ? before : after;
          }),
        };
      });
      const sheets = log.sheets.map((sheet) => ({
        ...sheet,
        limits: { ...sheet.limits, waterGPerKg: [2, 15] as const, rhPct: [20, 85] as const },
      }));
      expect(RULE_IDS).toHaveLength(callAt({ ...log, sheets, series }, nowMs).rules.length);
    });
  });
});

describe("never towards pour", () => {
  it("an older reading: the last ones taken away from a calm night", () => {
    const check = ({ log, nowMs, random }: RandomNight) => {
      const base = callAt(log, nowMs);
      neverTowardsPour(base, callAt(withoutLast(log, nowMs, random.between(1, 40) * MINUTE_MS), nowMs));
    };
    onNights(26, check, { calm: true });
  });

  it("time that passes without a reading", () => {
    onNights(26, ({ log, nowMs, random }) => {
      const base = callAt(log, nowMs);
      // A night that is over by then, or a day that has become whole, is the only good news that time alone brings.
      if (base.limiting !== null && stageOf(base.limiting) === "night") return;
      const laterMs = nowMs + random.between(1, 45) * MINUTE_MS;
      neverTowardsPour(base, callAt(heardBy(log, nowMs), laterMs));
    });
  });

  it("a probe that falls silent", () => {
    const check = ({ log, nowMs, random }: RandomNight) => {
      const base = callAt(log, nowMs);
      const fromMs = nowMs - random.between(0.1, 10) * HOUR_MS;
      const { node, quantity } = random.pick(log.series);
      const silent = random.chance(0.5)
        ? [`${node}/${quantity}`]
        : log.series.filter((item) => item.node === node).map((item) => `${node}/${item.quantity}`);
      neverTowardsPour(base, callAt(cutSeries(log, silent, fromMs), nowMs));
    };
    onNights(30, check, { many: true, whole: true });
  });

  it("a probe or a chip that was never heard at all", () => {
    const check = ({ log, nowMs, random }: RandomNight) => {
      const base = callAt(log, nowMs);
      const { node, quantity } = random.pick(log.series);
      const probes = { ...log.nodes.find((item) => item.id === node)?.probes, [`${quantity}.9`]: {} };
      const nodes = log.nodes.map((item) => (item.id === node ? { ...item, probes } : item));
      neverTowardsPour(base, callAt({ ...log, nodes }, nowMs));
    };
    onNights(20, check, { many: true });
  });

  it("a hand reading that stands in no more, whatever it says", () => {
    onNights(30, ({ log, nowMs, random }) => {
      const said = () => {
        const atMs = nowMs - random.between(0.6, 60) * HOUR_MS;
        const probe = random.chance(0.5) ? {} : { probe: `${random.pick(log.nodes).id}/slab` };
        const slabC = random.between(2, 30);
        return entry("measured", atMs, { slabC, airC: random.between(2, 30), rhPct: random.between(20, 98), ...probe });
      };
      const journal = [...log.journal, said(), said(), said()];
      const base = judgeZone(log, "a", nowMs).call;
      const worse = judgeZone({ ...log, journal }, "a", nowMs).call;
      neverTowardsPour(base, worse);
      const { marginK, marginUncertaintyK } = base.conditions;
      expect(worse.conditions.marginK).toBe(marginK);
      expect(worse.conditions.marginUncertaintyK ?? 0).toBeGreaterThanOrEqual((marginUncertaintyK ?? 0) - 1e-9);
    });
  });

  it("a salt check that is off", () => {
    onNights(20, ({ log, nowMs, random }) => {
      const fields = { probe: `${random.pick(log.nodes).id}/rh`, salt: "sodium-chloride", soakH: 9, airC: 20 };
      const off = entry("salt-checked", nowMs - 90 * HOUR_MS, { ...fields, readPct: random.between(60, 90) });
      neverTowardsPour(callAt(log, nowMs), callAt({ ...log, journal: [...log.journal, off] }, nowMs));
    });
  });

  it("a larger uncertainty", () => {
    onNights(26, ({ log, nowMs, random }) => {
      const wider = random.between(1, 5);
      const nodes = log.nodes.map(({ accuracy, ...node }) => ({
        ...node,
        accuracy: { slabK: accuracy.slabK * wider, airK: accuracy.airK * wider, rhPct: accuracy.rhPct * wider },
      }));
      neverTowardsPour(callAt(log, nowMs), callAt({ ...log, nodes }, nowMs));
    });
  });

  it("a shorter window", () => {
    onNights(26, ({ log, nowMs, random }) => {
      const share = random.between(0.2, 0.98);
      const sheets = log.sheets.map((sheet) => ({
        ...sheet,
        cure: sheet.cure.map((row) => ({
          ...row,
          recoatUntilH: row.recoatUntilH === null ? null : row.recoatUntilH * share,
        })),
      }));
      neverTowardsPour(callAt(log, nowMs), callAt({ ...log, sheets }, nowMs));
    });
  });
});
