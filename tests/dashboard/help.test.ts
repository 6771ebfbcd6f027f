// Help in place: every rule is explained in both languages, in few sentences, and the words of the trade are in both.
import { describe, expect, it } from "vitest";
import { RULE_IDS } from "#core/judge/call.ts";
import { enHelp } from "../../dashboard/text/en-help.ts";
import { esHelp } from "../../dashboard/text/es-help.ts";

/** Rules that this text leaves without a meaning or without something to do. */
function unexplained(rules: Readonly<Record<string, { means: string; todo: string }>>): string[] {
  return RULE_IDS.filter((rule) => (rules[rule]?.means ?? "").length < 20 || (rules[rule]?.todo ?? "").length < 20);
}
const sentences = (text: string) => text.split(/[.?:](?:\s|$)/).filter((part) => part.trim() !== "").length;

describe.each([
  ["en", enHelp],
  ["es", esHelp],
] as const)("help in %s", (_language, help) => {
  it("explains every rule, and no rule that there is not", () => {
    expect(unexplained(help.rules)).toEqual([]);
    expect(Object.keys(help.rules).sort()).toEqual([...RULE_IDS].sort());
  });

  it("is short: two to six clauses a rule, each ending in a full stop", () => {
    for (const [rule, { means, todo }] of Object.entries(help.rules)) {
      expect(sentences(means) + sentences(todo), rule).toBeGreaterThanOrEqual(2);
      expect(sentences(means) + sentences(todo), rule).toBeLessThanOrEqual(6);
      expect(means, rule).toMatch(/\.$/);
      expect(todo, rule).toMatch(/\.$/);
    }
  });

  it("says no number of a limit: that is the sheet's to say", () => {
    for (const { means, todo } of Object.values(help.rules)) expect(`${means} ${todo}`).not.toMatch(/\d/);
    expect(help.defer).not.toBe("");
  });

  it("never vouches", () => {
    expect(JSON.stringify(help)).not.toMatch(/\bsafe\b|guarantee|garanti/i);
  });
});

describe("help", () => {
  it("finds a rule that nobody explained", () => {
    const { frost: _gone, ...rest } = enHelp.rules;
    expect(unexplained({ ...rest, dust: { means: "Dust.", todo: "Clean the floor and log it." } })).toEqual([
      "dust",
      "frost",
    ]);
  });

  it("is two texts, not one: nothing in it is the same in both languages", () => {
    const same = RULE_IDS.filter((rule) => enHelp.rules[rule].means === esHelp.rules[rule].means);
    expect(same).toEqual([]);
    expect(esHelp.glossary).toHaveLength(enHelp.glossary.length);
    for (const { glossary } of [enHelp, esHelp])
      expect(new Set(glossary.map(([word]) => word)).size).toBe(glossary.length);
  });
});
