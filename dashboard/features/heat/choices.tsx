// The ways to heat side by side, below each other on a phone; the one that is picked is drawn and can be logged.
import { useId } from "react";
import type { HeatChoiceBody } from "#contract/heat-plan.ts";
import { heatText } from "../../text/heat.ts";
import { useVoice } from "../../ui/voice.tsx";
import { choiceRows, runWords } from "./heat-words.ts";

interface Props {
  readonly choices: readonly HeatChoiceBody[];
  /** The cheapest that saves the window. */
  readonly best: number | null;
  readonly picked: number;
  readonly onPick: (index: number) => void;
}

export function Choices({ choices, best, picked, onPick }: Props) {
  const voice = useVoice();
  const words = heatText(voice.text);
  const id = useId();
  return (
    <fieldset className="heat-choices">
      <legend>{words.choices}</legend>
      {choices.map((choice, index) => (
        <section
          key={choice.plan}
          className={`heat-choice${index === picked ? " heat-picked" : ""}`}
          aria-labelledby={`${id}-${index}`}
        >
          <label className="heat-pick">
            <input type="radio" name={id} checked={index === picked} onChange={() => onPick(index)} />
            <span id={`${id}-${index}`}>
              <b>{words.plans[choice.plan]}</b>
              <small>{runWords(choice, voice)}</small>
            </span>
          </label>
          <dl>
            {choiceRows(choice, voice).map(({ row, said, more }) => (
              <div key={row} className={row === "lost" && index === best ? "heat-saves" : undefined}>
                <dt>{words.rows[row]}</dt>
                <dd>
                  {said}
                  {more !== "" && <small>{more}</small>}
                </dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
    </fieldset>
  );
}
