// A table of the page, typed row by row: units are picked once a column, and any cell may stay blank.
import { type TypedUnit, unitsOfField } from "#core/cure/sheet-units.ts";
import type { SheetsText } from "../../text/en-sheets.ts";
import { COLUMNS, type Draft, type Table } from "./draft.ts";
import { FigureField, UnitPick } from "./figure-field.tsx";
import { fieldName } from "./figure-words.ts";

export interface Typing {
  readonly draft: Draft;
  readonly words: SheetsText;
  readonly faultOf: (path: string) => string | undefined;
  readonly doubtsOf: (path: string) => readonly string[];
  readonly type: (path: string, value: string) => void;
  readonly unit: (paths: readonly string[], unit: TypedUnit) => void;
  readonly addRow: (table: Table) => void;
  readonly dropRow: (table: Table, row: number) => void;
}

interface Props {
  readonly table: Table;
  readonly typing: Typing;
  readonly add: string;
}

export function TablePart({ table, typing, add }: Props) {
  const { draft, words, faultOf, doubtsOf, type, unit, addRow, dropRow } = typing;
  const rows = Array.from({ length: draft.rows[table] }, (_, row) => row);
  const columns = COLUMNS[table];
  const pathsOf = (column: string) => rows.map((row) => `${table}.${row}.${column}`);
  return (
    <div className="sheet-table">
      {rows.length > 0 && (
        <fieldset className="sheet-columns">
          <legend>{words.printedIn}</legend>
          {columns.map((column) => {
            const units = unitsOfField(`${table}.0.${column}`);
            if (units === null || units.length < 2) return null;
            const name = fieldName(`${table}.0.${column}`, words);
            return (
              <div key={column}>
                <span>{name}</span>
                <UnitPick
                  units={units}
                  unit={draft.figures[`${table}.0.${column}`]?.unit ?? null}
                  label={words.unitOf(name)}
                  words={words}
                  onPick={(picked) => unit(pathsOf(column), picked)}
                />
              </div>
            );
          })}
        </fieldset>
      )}
      {doubtsOf(table).map((doubt) => (
        <p key={doubt} className="figure-doubt">
          {doubt}
        </p>
      ))}
      {rows.map((row) => (
        <fieldset key={row} className="sheet-row">
          <legend>{words.row(row + 1)}</legend>
          {columns.map((column) => {
            const path = `${table}.${row}.${column}`;
            return (
              <FigureField
                key={column}
                path={path}
                label={fieldName(path, words)}
                figure={draft.figures[path] ?? { value: "", unit: null }}
                words={words}
                fault={faultOf(path)}
                doubts={doubtsOf(path)}
                onUnit={null}
                onType={(value) => type(path, value)}
              />
            );
          })}
          <button type="button" className="button sheet-drop" onClick={() => dropRow(table, row)}>
            {words.dropRow(row + 1)}
          </button>
        </fieldset>
      ))}
      <button type="button" className="button" onClick={() => addRow(table)}>
        {add}
      </button>
    </div>
  );
}
