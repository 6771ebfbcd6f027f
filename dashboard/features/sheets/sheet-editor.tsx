// The editor: a sheet typed in the units of its paper, with what looks odd beside each figure as it is typed.
import { type FormEvent, useMemo, useState } from "react";
import { sheetWarnings } from "#core/cure/sheet-sanity.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { ApiFailure } from "../../data/api.ts";
import { sheetsApi } from "../../data/sheets-api.ts";
import { sheetsText } from "../../text/sheets.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { formPath, readDraft } from "./body-of.ts";
import { type Draft, LIMITS, withoutRow, withRow, withUnit } from "./draft.ts";
import { FigureField } from "./figure-field.tsx";
import { fieldName, warningWords } from "./figure-words.ts";
import { freeId } from "./free-id.ts";
import { MaterialPart } from "./material-part.tsx";
import { PhotoPart } from "./photo-part.tsx";
import { RulesPart } from "./rules-part.tsx";
import { TablePart, type Typing } from "./table-part.tsx";

interface Props {
  readonly first: Draft;
  readonly taken: readonly string[];
  /** null where the session says who types. */
  readonly by: string | null;
  readonly onBy: ((by: string) => void) | null;
  readonly onSaved: (sheet: SheetBody) => void;
  readonly onCancel: () => void;
}

export function SheetEditor({ first, taken, by, onBy, onSaved, onCancel }: Props) {
  const { text, units } = useVoice();
  const words = sheetsText(text);
  const [draft, setDraft] = useState(first);
  const [shown, setShown] = useState(false);
  const [corrects, setCorrects] = useState("maker");
  const [note, setNote] = useState("");
  const [trouble, setTrouble] = useState<string | null>(null);
  const [saving, setSaving] = useState(false);
  const read = useMemo(() => readDraft(draft), [draft]);
  const warnings = useMemo(() => {
    const found = new Map<string, string[]>();
    for (const warning of sheetWarnings(read.body)) {
      const path = formPath(draft, warning.field);
      found.set(path, [...(found.get(path) ?? []), warningWords(warning, read.body, units, words)]);
    }
    return found;
  }, [draft, read, units, words]);

  const faultOf = (path: string) => {
    const fault = read.faults[path];
    if (fault === undefined || (fault === "missing" && !shown)) return undefined;
    return fault === "number" ? words.number : words.need;
  };
  // The margin that is not typed yet is missing, not odd.
  const doubtsOf = (path: string) => (read.faults[path] === undefined ? (warnings.get(path) ?? []) : []);
  const change = (part: Partial<Draft>) => setDraft((before) => ({ ...before, ...part }));
  const typing: Typing = {
    draft,
    words,
    faultOf,
    doubtsOf,
    type: (path, value) =>
      setDraft((before) => ({
        ...before,
        figures: { ...before.figures, [path]: { unit: before.figures[path]?.unit ?? null, value } },
      })),
    unit: (paths, unit) => setDraft((before) => withUnit(before, paths, unit)),
    addRow: (table) => setDraft((before) => withRow(before, table, units)),
    dropRow: (table, row) => setDraft((before) => withoutRow(before, table, row)),
  };

  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setShown(true);
    setTrouble(null);
    const [wrong] = Object.keys(read.faults);
    if (wrong !== undefined) {
      const said = read.faults[wrong] === "number" ? words.number : words.need;
      return setTrouble(`${fieldName(wrong, words)}: ${said}`);
    }
    const own = by?.trim() ?? "";
    const said = note.trim();
    const body: SheetBody = {
      ...read.body,
      id: draft.id === "" ? freeId(draft.name, taken) : draft.id,
      saved: {
        revision: draft.revision ?? 0,
        ...(own === "" ? {} : { by: own }),
        ...(draft.id !== "" && corrects === "slip" ? { corrects: true } : {}),
        ...(said === "" ? {} : { note: said }),
      },
    };
    setSaving(true);
    try {
      onSaved(await sheetsApi.save(body));
    } catch (cause) {
      const refused = cause instanceof ApiFailure && cause.kind === "refused";
      setTrouble(refused ? (cause.status === 409 ? words.conflict : cause.message) : words.failed);
      setSaving(false);
    }
  };

  return (
    <form className="sheet-editor" noValidate onSubmit={(event) => void submit(event)}>
      <Field
        label={words.name}
        type="text"
        value={draft.name}
        help={words.nameHelp}
        error={faultOf("name")}
        onType={(name) => change({ name })}
      />
      <section className="sheet-part">
        <h2>{words.sections.limits}</h2>
        <p className="field-help">{words.blank}</p>
        <div className="sheet-figures">
          {LIMITS[draft.kind].map((path) => (
            <FigureField
              key={path}
              path={path}
              label={fieldName(path, words)}
              figure={draft.figures[path] ?? { value: "", unit: null }}
              words={words}
              fault={faultOf(path)}
              doubts={doubtsOf(path)}
              onUnit={(unit) => typing.unit([path], unit)}
              onType={(value) => typing.type(path, value)}
            />
          ))}
        </div>
      </section>
      <section className="sheet-part">
        <h2>{draft.kind === "filler" ? words.sections.hard : words.sections.cure}</h2>
        <TablePart table={draft.kind === "filler" ? "hard" : "cure"} typing={typing} add={words.addRow} />
      </section>
      {draft.kind === "coat" && <RulesPart draft={draft} words={words} doubts={doubtsOf("window")} onChange={change} />}
      {draft.kind === "coat" && <MaterialPart typing={typing} onChange={change} />}
      <PhotoPart
        photos={draft.photos}
        words={words}
        onKept={(photo) => setDraft((before) => ({ ...before, photos: [...new Set([...before.photos, photo])] }))}
      />
      <section className="sheet-part">
        <h2>{words.sections.last}</h2>
        {draft.id !== "" && (
          <>
            <Choice label={words.corrects} options={words.correctsOptions} value={corrects} onPick={setCorrects} />
            <p className="field-help">{corrects === "slip" ? words.correctsHelp.slip : words.correctsHelp.maker}</p>
          </>
        )}
        <Field label={words.note} type="text" value={note} onType={setNote} />
        {onBy !== null && <Field label={words.who} type="text" value={by ?? ""} onType={onBy} />}
        <p className="sheet-caution">{words.afterSave}</p>
        {trouble !== null && (
          <p className="field-error" role="alert">
            {trouble}
          </p>
        )}
        <div className="sheet-acts">
          <button type="submit" className="button button-main" disabled={saving}>
            {saving ? words.saving : words.save}
          </button>
          <button type="button" className="button" onClick={onCancel}>
            {words.cancel}
          </button>
        </div>
      </section>
    </form>
  );
}
