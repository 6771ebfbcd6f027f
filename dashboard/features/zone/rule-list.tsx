// Every rule of the call in the order of judgement: what stops or is near first to see, what is met one tap away.
import { Fragment, type ReactNode, useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import type { RuleResultBody } from "#contract/call.ts";
import type { RuleId, RuleUnit } from "#core/judge/call.ts";
import { aheadText } from "../../text/ahead.ts";
import { detailWords, factsOf } from "../../text/sentence.ts";
import { zoneText } from "../../text/zone.ts";
import { showBoth } from "../../units/show.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly item: BoardZoneBody;
  /** What a rule means and what to do about it. */
  readonly help: (rule: RuleId) => ReactNode;
}

const helpId = (rule: RuleId) => `help-${rule}`;

export function RuleList({ item, help }: Props) {
  const { text } = useVoice();
  const words = zoneText(text);
  const [all, setAll] = useState(false);
  const [helped, setHelped] = useState<RuleId | null>(null);
  const rank = { stop: 0, unknown: 1, caution: 2, pass: 3 } as const;
  const open = item.call.rules
    .filter((rule) => rule.outcome !== "pass")
    .sort((a, b) => rank[a.outcome] - rank[b.outcome]);
  // Of a long board those that are met come with the zone itself: until then there is nothing to unfold.
  const met = item.call.metLeftOut === undefined ? item.call.rules.length - open.length : 0;
  const shown = all ? item.call.rules : open;
  return (
    <section
      className="rules"
      aria-label={words.rules}
      onKeyDown={(event) => {
        if (event.key === "Escape") setHelped(null);
      }}
    >
      <h2>{words.rules}</h2>
      <p className="why-note">{aheadText(text).helps.rules}</p>
      {shown.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">{words.outcome}</th>
              <th scope="col">{words.rule}</th>
              <th scope="col">{words.measured}</th>
              <th scope="col">{words.limit}</th>
              <td />
            </tr>
          </thead>
          <tbody>
            {shown.map((rule) => (
              <Fragment key={rule.rule}>
                <RuleRow
                  rule={rule}
                  item={item}
                  helped={helped === rule.rule}
                  onHelp={() => setHelped(helped === rule.rule ? null : rule.rule)}
                />
                {helped === rule.rule && (
                  <tr className="rule-help" id={helpId(rule.rule)}>
                    <td colSpan={5}>{help(rule.rule)}</td>
                  </tr>
                )}
              </Fragment>
            ))}
          </tbody>
        </table>
      )}
      {met > 0 && (
        <button type="button" className="button rules-more" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? words.hideMet : words.showAll(met)}
        </button>
      )}
      <p className="why-note">{words.limitsMet}</p>
    </section>
  );
}

interface RowProps {
  readonly rule: RuleResultBody;
  readonly item: BoardZoneBody;
  readonly helped: boolean;
  readonly onHelp: () => void;
}

function RuleRow({ rule, item, helped, onHelp }: RowProps) {
  const voice = useVoice();
  const { text, units, placeOf } = voice;
  const unit = rule.unit as RuleUnit | null;
  const said = rule.outcome === "stop" ? text.rules[rule.rule](factsOf(rule, item, voice)) : null;
  const number = (value: number | null) => (value === null ? "–" : showBoth(value, unit, units));
  return (
    <tr className={`rule-${rule.outcome}`}>
      <td>
        <OutcomeSign outcome={rule.outcome} /> {text.outcomes[rule.outcome]}
      </td>
      <th scope="row">
        {text.ruleNames[rule.rule]}
        {rule.probe !== null && <small>{placeOf(rule.probe)}</small>}
        {said === null && rule.detail !== null && <small>{detailWords(rule.detail, voice)}</small>}
        {said !== null && rule.measured === null && <small>{said.lead}</small>}
      </th>
      <td data-name={zoneText(text).measured}>{number(rule.measured)}</td>
      <td data-name={zoneText(text).limit}>{number(rule.limit)}</td>
      <td className="rule-ask">
        <button
          type="button"
          aria-expanded={helped}
          aria-controls={helped ? helpId(rule.rule) : undefined}
          aria-label={zoneText(text).ruleHelp(text.ruleNames[rule.rule])}
          onClick={onHelp}
        >
          <span aria-hidden="true">?</span>
        </button>
      </td>
    </tr>
  );
}

/** Ring: met. Two bars: near. Filled square: stops. Broken ring: unknown. */
function OutcomeSign({ outcome }: { readonly outcome: RuleResultBody["outcome"] }) {
  return (
    <svg className="outcome" width="18" height="18" viewBox="0 0 18 18" aria-hidden="true">
      {outcome === "pass" && <circle cx="9" cy="9" r="6" fill="none" stroke="currentColor" strokeWidth="2" />}
      {outcome === "caution" && <path d="M2 6h14M2 12h14" stroke="currentColor" strokeWidth="3" />}
      {outcome === "stop" && <rect x="2" y="2" width="14" height="14" fill="currentColor" />}
      {outcome === "unknown" && (
        <circle cx="9" cy="9" r="6" fill="none" stroke="currentColor" strokeWidth="2" strokeDasharray="4 3" />
      )}
    </svg>
  );
}
