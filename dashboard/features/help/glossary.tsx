// The words of the trade, and every rule with what it asks for.
import { RULE_IDS } from "#core/judge/call.ts";
import { helpText } from "../../text/help.ts";
import { useVoice } from "../../ui/voice.tsx";
import "./help.css";

export function Glossary() {
  const { text } = useVoice();
  const words = helpText(text);
  return (
    <section className="glossary" aria-labelledby="glossary-title">
      <h2 id="glossary-title">{words.title}</h2>
      <p className="help-defer">
        {words.intro} {words.defer}
      </p>
      <h3>{words.wordsTitle}</h3>
      <dl>
        {words.glossary.map(([word, meaning]) => (
          <div key={word}>
            <dt>{word}</dt>
            <dd>{meaning}</dd>
          </div>
        ))}
      </dl>
      <h3>{words.rulesTitle}</h3>
      <dl>
        {RULE_IDS.map((rule) => (
          <div key={rule} id={`rule-${rule}`}>
            <dt>{text.ruleNames[rule]}</dt>
            <dd>{words.rules[rule].means}</dd>
            <dd>
              <b>{words.todo}</b> {words.rules[rule].todo}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
