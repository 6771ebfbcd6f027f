// The second look: every figure beside the page, part by part, then one word that makes it a limit.
import { useState } from "react";
import { sheetWarnings } from "#core/cure/sheet-sanity.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { ApiFailure } from "../../data/api.ts";
import { sheetsApi } from "../../data/sheets-api.ts";
import type { SheetsText } from "../../text/en-sheets.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { placeName, warningWords } from "./figure-words.ts";
import { type Part, partsOf } from "./parts-of.ts";
import { Lines } from "./lines.tsx";

interface Props {
  readonly sheet: SheetBody;
  readonly words: SheetsText;
  readonly by: string | null;
  readonly onBy: ((by: string) => void) | null;
  readonly onConfirmed: (sheet: SheetBody) => void;
}

export function ConfirmPart({ sheet, words, by, onBy, onConfirmed }: Props) {
  const { units } = useVoice();
  const [ticked, setTicked] = useState<readonly Part["name"][]>([]);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [sending, setSending] = useState(false);
  const parts = partsOf(sheet, units, words);
  const doubts = sheetWarnings(sheet).filter(({ kind }) => kind !== "dew-safe-estimated");
  const own = by?.trim() ?? "";
  const typedBy = sheet.saved?.by ?? null;

  const tick = (name: Part["name"]) =>
    setTicked(ticked.includes(name) ? ticked.filter((one) => one !== name) : [...ticked, name]);
  const confirm = async () => {
    if (parts.some(({ name }) => !ticked.includes(name))) return setTrouble(words.confirm.need);
    setSending(true);
    setTrouble(null);
    try {
      onConfirmed(await sheetsApi.confirm(sheet.id, sheet.saved?.revision ?? 0, own === "" ? null : own));
    } catch (cause) {
      const refused = cause instanceof ApiFailure && cause.kind === "refused";
      setTrouble(refused ? (cause.status === 409 ? words.conflict : cause.message) : words.failed);
      setSending(false);
    }
  };
  return (
    <section className="sheet-part sheet-confirm">
      <h2>{words.confirm.title}</h2>
      <p>{words.confirm.help}</p>
      {typedBy !== null && own === typedBy && <p className="sheet-caution">{words.confirm.own}</p>}
      {parts.map((part) => (
        <div key={part.name}>
          <h3>{words.sections[part.name]}</h3>
          <Lines part={part} />
          <label className="sheet-tick">
            <input type="checkbox" checked={ticked.includes(part.name)} onChange={() => tick(part.name)} />
            <span>{words.confirm.group(words.sections[part.name])}</span>
          </label>
        </div>
      ))}
      {doubts.length > 0 && (
        <>
          <p>
            <b>{words.confirm.doubts}</b>
          </p>
          <ul className="sheet-doubts">
            {doubts.map((doubt) => (
              <li key={`${doubt.field} ${doubt.kind}`} className="figure-doubt">
                <b>{placeName(sheet, doubt.field, units, words)}:</b> {warningWords(doubt, sheet, units, words)}
              </li>
            ))}
          </ul>
        </>
      )}
      {onBy !== null && <Field label={words.who} type="text" value={by ?? ""} onType={onBy} />}
      {trouble !== null && (
        <p className="field-error" role="alert">
          {trouble}
        </p>
      )}
      <button type="button" className="button button-main" disabled={sending} onClick={() => void confirm()}>
        {words.confirm.button}
      </button>
    </section>
  );
}
