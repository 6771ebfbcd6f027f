// The material of a product: what covers, how it is mixed, how long it lives in the pail. No limit asks for it.
import { useState } from "react";
import type { SheetsText } from "../../text/en-sheets.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { type Draft, MATERIAL } from "./draft.ts";
import { FigureField } from "./figure-field.tsx";
import { fieldName } from "./figure-words.ts";
import { TablePart, type Typing } from "./table-part.tsx";

interface Props {
  readonly typing: Typing;
  readonly onChange: (change: Partial<Draft>) => void;
}

const isTold = ({ figures, rows }: Draft) =>
  rows["material.potLife"] + rows["material.mix.parts"] > 0 || MATERIAL.some((path) => figures[path]?.value);

export function MaterialPart({ typing, onChange }: Props) {
  const { draft, words, faultOf, doubtsOf, type, unit } = typing;
  const [open, setOpen] = useState(isTold(draft));
  return (
    <section className="sheet-part">
      <h2>
        <button type="button" className="sheet-fold" aria-expanded={open} onClick={() => setOpen(!open)}>
          {words.sections.material}
        </button>
      </h2>
      {open && (
        <>
          <div className="sheet-figures">
            {MATERIAL.map((path) => (
              <FigureField
                key={path}
                path={path}
                label={fieldName(path, words)}
                figure={draft.figures[path] ?? { value: "", unit: null }}
                words={words}
                fault={faultOf(path)}
                doubts={doubtsOf(path)}
                onUnit={(picked) => unit([path], picked)}
                onType={(value) => type(path, value)}
              />
            ))}
          </div>
          <h3>{words.parts}</h3>
          <Choice
            label={words.mixBy}
            options={words.mixBys}
            value={draft.mixBy}
            onPick={(by) => onChange({ mixBy: by === "mass" ? "mass" : "volume" })}
          />
          {draft.partNames.map((name, index) => (
            <Field
              // Parts have no name of their own until one is typed.
              key={`part-${index + 1}`}
              label={`${words.partName} ${index + 1}`}
              type="text"
              value={name}
              onType={(value) =>
                onChange({ partNames: draft.partNames.map((one, at) => (at === index ? value : one)) })
              }
            />
          ))}
          <TablePart table="material.mix.parts" typing={typing} add={words.addPart} />
          <Toggle
            label={words.splitKits}
            on={draft.splitKits}
            words={words}
            onPick={(splitKits) => onChange({ splitKits })}
          />
          <h3>{words.potLife}</h3>
          <Choice
            label={words.potClass}
            options={words.potClasses}
            value={draft.potClass}
            onPick={(potClass) => onChange({ potClass })}
          />
          <TablePart table="material.potLife" typing={typing} add={words.addPot} />
          <fieldset className="choice">
            <legend>{words.hazards}</legend>
            <div className="choice-options">
              {Object.entries(words.hazardNames).map(([hazard, name]) => (
                <button
                  key={hazard}
                  type="button"
                  className="button"
                  aria-pressed={draft.hazards.includes(hazard)}
                  onClick={() =>
                    onChange({
                      hazards: draft.hazards.includes(hazard)
                        ? draft.hazards.filter((one) => one !== hazard)
                        : [...draft.hazards, hazard],
                    })
                  }
                >
                  {name}
                </button>
              ))}
            </div>
          </fieldset>
        </>
      )}
    </section>
  );
}

interface ToggleProps {
  readonly label: string;
  readonly on: boolean;
  readonly words: SheetsText;
  readonly onPick: (on: boolean) => void;
}

export function Toggle({ label, on, words, onPick }: ToggleProps) {
  return (
    <Choice
      label={label}
      options={{ no: words.no, yes: words.yes }}
      value={on ? "yes" : "no"}
      onPick={(value) => onPick(value === "yes")}
    />
  );
}
