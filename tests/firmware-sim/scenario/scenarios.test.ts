// Every scenario brings the call that it says must answer it.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { readNightFile } from "#contract/night-file.ts";
import { scenarioNamed, SCENARIOS } from "../../../firmware-sim/scenario/list.ts";
import { nightFileOf } from "../../../firmware-sim/scenario/night-file.ts";
import { readingsUntil } from "../../../firmware-sim/scenario/play.ts";

const OPENED = Date.parse("2026-12-08T23:40:00Z");

describe("scenarios", () => {
  it.each(SCENARIOS.map(({ id, title }) => [id, title]))("%s: %s", (id) => {
    const scenario = scenarioNamed(id).make(OPENED, 1);
    const file = readNightFile(
      JSON.parse(JSON.stringify(nightFileOf(scenario, readingsUntil(scenario, OPENED), [], scenario.expect))),
    );
    if (!file.ok) throw new Error(JSON.stringify(file.faults));
    expect(scenario.expect.length).toBeGreaterThan(0);
    for (const { atMs, zone, call, limiting } of scenario.expect) {
      const said = judgeZone(file.value.log, zone, atMs).call;
      const reasons = said.rules
        .filter((rule) => rule.outcome !== "pass")
        .map(({ rule, outcome, detail }) => `${rule} ${outcome} ${detail ?? ""}`);
      expect(said.call, `${zone}: ${reasons.join(", ")}`).toBe(call);
      expect(limiting, `${zone}: ${reasons.join(", ")}`).toContain(said.limiting);
    }
  });

  it("have names of their own, and a wrong name is answered with the right ones", () => {
    expect(new Set(SCENARIOS.map((each) => each.id)).size).toBe(SCENARIOS.length);
    expect(() => scenarioNamed("nowhere")).toThrow(/no scenario "nowhere"; there are heron-reach/);
  });
});
