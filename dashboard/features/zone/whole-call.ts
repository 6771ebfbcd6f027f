// The call of a zone with all its rules, where a long board has left out those that are met.
import type { BoardZoneBody, ZonePageBody } from "#contract/board.ts";
import type { RuleResultBody } from "#contract/call.ts";

const met = (rule: RuleResultBody["rule"]): RuleResultBody => ({
  ...{ rule, outcome: "pass", measured: null, limit: null, unit: null, probe: null, since: null, detail: null },
});

/**
 * With what the zone itself has said. A rule that the board leaves out is met, whatever it was when the zone was asked:
 * then its numbers of that time are not shown.
 */
export function withAllRules(item: BoardZoneBody, page: Pick<ZonePageBody, "call"> | null): BoardZoneBody {
  if (page === null || item.call.metLeftOut === undefined) return item;
  const { metLeftOut: _, ...call } = item.call;
  const stated = new Map(call.rules.map((rule) => [rule.rule, rule]));
  const rules = page.call.rules.map((rule) => {
    const said = stated.get(rule.rule) ?? (rule.outcome === "pass" ? rule : met(rule.rule));
    stated.delete(rule.rule);
    return said;
  });
  return { ...item, call: { ...call, rules: [...rules, ...stated.values()] } };
}
