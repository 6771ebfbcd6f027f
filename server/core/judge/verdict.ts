// From facts to the verdict: every rule is evaluated and reported, the first stop in order decides.
import type { Step } from "#core/cure/sheet.ts";
import type { CallWord, RuleId, RuleResult } from "#core/judge/call.ts";
import type { Facts } from "#core/judge/facts.ts";
import { type Finding, PASS, type Rule } from "#core/judge/rule.ts";
import { ALL_RULES, stageOf } from "#core/judge/rules/all.ts";

export interface Verdict {
  readonly call: CallWord;
  readonly limiting: RuleId | null;
  readonly rules: readonly RuleResult[];
  readonly steps: readonly Step[];
}

function resultOf(rule: Rule, finding: Finding): RuleResult {
  return {
    rule: rule.id,
    outcome: finding.outcome,
    measured: finding.measured ?? null,
    limit: finding.limit ?? null,
    unit: finding.unit ?? null,
    probe: finding.probe ?? null,
    sinceMs: finding.sinceMs ?? null,
    detail: finding.detail ?? null,
  };
}

/** After the last coat there is no next one: what only it would need is not asked. */
function askedWhenFinished(rule: Rule): boolean {
  return rule.afterLastCoat || stageOf(rule.id) === "data" || stageOf(rule.id) === "record";
}

function findingOf(rule: Rule, facts: Facts): Finding {
  if (facts.finished && !askedWhenFinished(rule)) return PASS;
  const finding = rule.judge(facts);
  return facts.pouring && rule.cautionWhilePouring && finding.outcome === "stop"
    ? { ...finding, outcome: "caution" }
    : finding;
}

/**
 * True if with these facts every rule comes out as it did in the verdict, and the one that limits asks for the same steps.
 * With `pouring` and `finished` as they were the call is then the same.
 */
export function standsWith(verdict: Verdict, facts: Facts): boolean {
  for (let index = 0; index < ALL_RULES.length; index++) {
    const rule = ALL_RULES[index] as Rule;
    const finding = findingOf(rule, facts);
    if (finding.outcome !== verdict.rules[index]?.outcome) return false;
    if (rule.id === verdict.limiting && (finding.steps ?? []).join() !== verdict.steps.join()) return false;
  }
  return true;
}

/**
 * After the last coat the call is finished, whatever the data say, but blush on it still asks for work once it is hard.
 * While pouring the call speaks of carrying on: `wait` is stop at the next joint, and a stop that would ask for
 * abrading is a wait as well.
 */
export function verdictOf(facts: Facts): Verdict {
  const findings = ALL_RULES.map((rule) => ({ rule, finding: findingOf(rule, facts) }));
  const rules = findings.map(({ rule, finding }) => resultOf(rule, finding));
  if (facts.finished) {
    const soft = findings.some(({ rule, finding }) => stageOf(rule.id) === "film" && finding.outcome === "stop");
    const work = soft
      ? undefined
      : findings.find(
          ({ rule, finding }) => rule.calls === "abrade" && rule.afterLastCoat && finding.outcome === "stop",
        );
    if (work === undefined) return { call: "finished", limiting: null, rules, steps: [] };
    return { call: "abrade", limiting: work.rule.id, rules, steps: work.finding.steps ?? [] };
  }
  const stop = findings.find(({ finding }) => finding.outcome === "stop");
  if (stop === undefined) return { call: "pour", limiting: null, rules, steps: [] };
  return {
    call: facts.pouring ? "wait" : stop.rule.calls,
    limiting: stop.rule.id,
    rules,
    steps: stop.finding.steps ?? [],
  };
}
