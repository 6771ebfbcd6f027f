// The cheap look gives the call that the judge gives, at every moment, whatever is wrong with the nodes.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { casesOf, cleanNight } from "../../../firmware-sim/injected/cases.ts";
import { lookAt, looksOf } from "../../../firmware-sim/injected/look.ts";
import { playTwins } from "../../../firmware-sim/injected/twins.ts";
import { SHED_ZONE } from "../../../firmware-sim/scenario/shed.ts";
import { yearsIn } from "../../../firmware-sim/study/sample.ts";

const years = yearsIn("tests/reference/weather");

describe("a look", () => {
  it("at sound and faulty nights calls as the judge does", () => {
    const calls = new Set<string>();
    for (const index of [1, 3]) {
      const night = cleanNight(years, 1, index);
      const cases = index === 1 ? casesOf(night, { seed: 1, nights: 2, asks: 1, pairs: 0 }) : [];
      const twins = playTwins(
        night,
        cases.map(({ nodes }) => nodes),
      );
      const sound = twins.logOf(night.scenario.nodes);
      const asked = [
        ...night.asksMs.filter((_, i) => i % 4 === 0).map((atMs) => ({ log: sound, atMs })),
        ...cases.flatMap(({ nodes, asksMs }) => asksMs.map((atMs) => ({ log: twins.logOf(nodes), atMs }))),
      ];
      for (const { log, atMs } of asked) {
        const { call, limiting, rules } = judgeZone(log, SHED_ZONE, atMs).call;
        const look = lookAt(log, atMs);
        expect(look.called()).toEqual({ call, limiting });
        const stops = rules.filter(({ outcome }) => outcome === "stop").map(({ rule }) => rule);
        expect(stops).toEqual(expect.arrayContaining([...look.blocked]));
        calls.add(call);
      }
    }
    expect(calls).toContain("pour");
    expect(calls).toContain("wait");
  }, 120_000);

  it("is taken once a moment", () => {
    const night = cleanNight(years, 1, 1);
    const looks = looksOf(playTwins(night, []).logOf(night.scenario.nodes));
    const atMs = night.asksMs[0] as number;
    expect(looks(atMs)).toBe(looks(atMs));
    expect(looks(atMs).probes).toBe(4);
    expect(looks(atMs).voices).toBe(4);
  });
});
