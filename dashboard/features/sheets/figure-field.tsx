// One figure of the page: its number, its unit, what it is in the other system, and what looks odd about it.
import { useId } from "react";
import { type TypedUnit, unitsOfField } from "#core/cure/sheet-units.ts";
import type { SheetsText } from "../../text/en-sheets.ts";
import type { Figure } from "./draft.ts";
import { besideOf } from "./figure-words.ts";

interface Props {
  readonly path: string;
  readonly label: string;
  readonly figure: Figure;
  readonly words: SheetsText;
  readonly fault: string | undefined;
  readonly doubts: readonly string[];
  /** null where the unit is picked for the whole column. */
  readonly onUnit: ((unit: TypedUnit) => void) | null;
  readonly onType: (value: string) => void;
}

export function FigureField({ path, label, figure, words, fault, doubts, onUnit, onType }: Props) {
  const id = useId();
  const units = unitsOfField(path);
  const beside = besideOf(figure, path, words);
  const told = fault !== undefined || doubts.length > 0 || beside !== null;
  return (
    <div className={doubts.length > 0 ? "field figure figure-odd" : "field figure"}>
      <label htmlFor={id}>{label}</label>
      <div className="field-row">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={figure.value}
          aria-invalid={fault !== undefined}
          aria-describedby={told ? `${id}-told` : undefined}
          onChange={(event) => onType(event.target.value)}
        />
        {units !== null && units.length > 1 && onUnit !== null ? (
          <UnitPick units={units} unit={figure.unit} label={words.unitOf(label)} words={words} onPick={onUnit} />
        ) : (
          figure.unit !== null && <span className="field-unit">{words.units[figure.unit]}</span>
        )}
      </div>
      {told && (
        <div id={`${id}-told`}>
          {beside !== null && <p className="field-help">{words.as(beside)}</p>}
          {fault !== undefined && <p className="field-error">{fault}</p>}
          {doubts.map((doubt) => (
            <p key={doubt} className="figure-doubt">
              {doubt}
            </p>
          ))}
        </div>
      )}
    </div>
  );
}

interface PickProps {
  readonly units: readonly TypedUnit[];
  readonly unit: TypedUnit | null;
  readonly label: string;
  readonly words: SheetsText;
  readonly onPick: (unit: TypedUnit) => void;
}

export function UnitPick({ units, unit, label, words, onPick }: PickProps) {
  return (
    <select
      className="figure-unit"
      aria-label={label}
      value={unit ?? units[0]}
      onChange={(event) => onPick(event.target.value as TypedUnit)}
    >
      {units.map((one) => (
        <option key={one} value={one}>
          {words.units[one]}
        </option>
      ))}
    </select>
  );
}
