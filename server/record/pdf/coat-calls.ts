// Overrides and calls of a coat: what the screen said at each time, why, and who decided otherwise.
import type { CoatRecordBody } from "#contract/record.ts";
import type { OverrideSchema, ShownCallBody } from "#contract/record-parts.ts";
import type Type from "typebox";
import { INK, type Paper } from "./paper.ts";
import { heading, msOf, type Setting } from "./setting.ts";
import { table } from "./table.ts";

type Override = Type.Static<typeof OverrideSchema>;

export function overridesPart(paper: Paper, overrides: readonly Override[], { words, clock }: Setting): void {
  const { labels } = words;
  heading(paper, words.sections.overrides);
  if (overrides.length === 0) return paper.tell(words.help.noOverrides);
  table(
    paper,
    [
      { title: labels.at, share: 20 },
      { title: labels.by, share: 12 },
      { title: labels.call, share: 11 },
      { title: labels.stood, share: 26 },
      { title: labels.why, share: 36 },
    ],
    overrides.map(({ at, by, call, why, stood }) => [
      clock.stamp(msOf(at)),
      by ?? words.noName,
      { text: words.calls[call], face: "bold", colour: INK.stop },
      stood === null
        ? words.unknown
        : [words.calls[stood.call], ...(stood.limiting === null ? [] : [words.rules[stood.limiting]])].join(": "),
      why,
    ]),
  );
}

function reasonsOf({ reasons, limiting, steps }: ShownCallBody, { words, figures }: Setting): string {
  const sorted = [...reasons].sort((a, b) => Number(b.rule === limiting) - Number(a.rule === limiting));
  const said = sorted.map(({ rule, outcome, measured, limit, unit, probe, detail }) => {
    const numbers = [
      ...(measured === null ? [] : [figures.measure(measured, unit)]),
      ...(limit === null ? [] : [`${words.labels.limit.toLowerCase()} ${figures.measure(limit, unit)}`]),
      ...(probe === null ? [] : [words.says.probeAt(probe)]),
      ...(detail === null ? [] : [detail]),
    ];
    return `${words.rules[rule]} (${[words.ruleOutcomes[outcome], ...numbers].join(", ")})`;
  });
  return [...(steps.length === 0 ? [] : [steps.map((step) => words.steps[step]).join(", ")]), ...said].join("; ");
}

export function callsPart(paper: Paper, { calls }: CoatRecordBody, setting: Setting): void {
  const { words, clock } = setting;
  const { labels } = words;
  heading(paper, words.sections.calls, words.help.calls);
  if (calls.length === 0) return paper.tell(words.none);
  table(
    paper,
    [
      { title: labels.from, share: 20 },
      { title: labels.call, share: 12 },
      { title: labels.reasons, share: 60 },
      { title: labels.hash, share: 12 },
    ],
    calls.map((call) => [
      clock.stamp(msOf(call.at)),
      { text: words.calls[call.call], face: "bold", colour: INK[call.call] },
      reasonsOf(call, setting),
      call.hash === null ? "" : `${call.hash.slice(0, 8)}…`,
    ]),
  );
}
