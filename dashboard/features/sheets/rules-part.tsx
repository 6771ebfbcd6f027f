// What a sheet says of recoating: whether its window closes, what lifts it, and what is done after blush.
import type { SheetsText } from "../../text/en-sheets.ts";
import { Choice } from "../../ui/choice.tsx";
import type { Draft } from "./draft.ts";
import { Toggle } from "./material-part.tsx";

interface Props {
  readonly draft: Draft;
  readonly words: SheetsText;
  readonly doubts: readonly string[];
  readonly onChange: (change: Partial<Draft>) => void;
}

const STEPS = ["wash", "abrade", "clean"] as const;

export function RulesPart({ draft, words, doubts, onChange }: Props) {
  const picked = draft.afterBlush;
  return (
    <section className="sheet-part">
      <h2>{words.sections.rules}</h2>
      <Choice
        label={words.window}
        options={words.windows}
        value={draft.window}
        onPick={(value) => onChange({ window: value === "open" ? "open" : "closes" })}
      />
      {doubts.map((doubt) => (
        <p key={doubt} className="figure-doubt">
          {doubt}
        </p>
      ))}
      <Toggle
        label={words.waiver}
        on={draft.broadcastWaiver}
        words={words}
        onPick={(broadcastWaiver) => onChange({ broadcastWaiver })}
      />
      <Toggle label={words.seals} on={draft.seals} words={words} onPick={(seals) => onChange({ seals })} />
      <fieldset className="choice">
        <legend>{words.afterBlush}</legend>
        <p className="field-help">{words.afterBlushHelp}</p>
        <div className="choice-options">
          {STEPS.map((step) => (
            <button
              key={step}
              type="button"
              className="button"
              aria-pressed={picked.includes(step)}
              onClick={() =>
                onChange({
                  afterBlush: picked.includes(step) ? picked.filter((one) => one !== step) : [...picked, step],
                })
              }
            >
              {picked.includes(step) ? `${picked.indexOf(step) + 1}. ` : ""}
              {words.steps[step]}
            </button>
          ))}
        </div>
        <p role="status">{picked.length === 0 ? words.noSteps : picked.map((step) => words.steps[step]).join(" → ")}</p>
      </fieldset>
    </section>
  );
}
