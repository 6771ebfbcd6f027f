// One sheet: whether it is a limit, what it asks for, what looks odd, and how it came about.
import { useState } from "react";
import { sheetWarnings } from "#core/cure/sheet-sanity.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { sheetsText } from "../../text/sheets.ts";
import { useVoice } from "../../ui/voice.tsx";
import { ConfirmPart } from "./confirm-part.tsx";
import { draftOf } from "./draft.ts";
import { placeName, warningWords } from "./figure-words.ts";
import { HistoryPart } from "./history-part.tsx";
import { Lines } from "./lines.tsx";
import { partsOf } from "./parts-of.ts";
import { Pages } from "./photo-part.tsx";
import { SheetEditor } from "./sheet-editor.tsx";
import { StateLine } from "./state-line.tsx";

interface Props {
  readonly sheet: SheetBody;
  readonly taken: readonly string[];
  readonly plans: boolean;
  readonly by: string | null;
  readonly onBy: ((by: string) => void) | null;
  readonly onChanged: (sheet: SheetBody) => void;
}

export function SheetView({ sheet, taken, plans, by, onBy, onChanged }: Props) {
  const { text, units } = useVoice();
  const words = sheetsText(text);
  const [editing, setEditing] = useState(false);
  const warnings = sheetWarnings(sheet);
  const changed = (kept: SheetBody) => {
    setEditing(false);
    onChanged(kept);
    globalThis.scrollTo(0, 0);
  };
  if (editing)
    return (
      <>
        <h1>{sheet.name}</h1>
        <SheetEditor
          first={draftOf(sheet, units, false)}
          taken={taken}
          by={by}
          onBy={onBy}
          onSaved={changed}
          onCancel={() => setEditing(false)}
        />
      </>
    );
  return (
    <>
      <h1>
        {sheet.name} <small>{words.kinds[sheet.kind ?? "coat"]}</small>
      </h1>
      <StateLine sheet={sheet} words={words} />
      {plans && (
        <div className="sheet-acts">
          <button type="button" className="button" onClick={() => setEditing(true)}>
            {words.edit}
          </button>
        </div>
      )}
      <Pages photos={sheet.photos ?? []} words={words} />
      {sheet.confirmed === null && plans ? (
        <ConfirmPart sheet={sheet} words={words} by={by} onBy={onBy} onConfirmed={changed} />
      ) : (
        <>
          {warnings.length > 0 && (
            <section className="sheet-part">
              <h2>{words.doubts(warnings.length)}</h2>
              <ul className="sheet-doubts">
                {warnings.map((warning) => (
                  <li key={`${warning.field} ${warning.kind}`} className="figure-doubt">
                    <b>{placeName(sheet, warning.field, units, words)}:</b> {warningWords(warning, sheet, units, words)}
                  </li>
                ))}
              </ul>
            </section>
          )}
          {partsOf(sheet, units, words).map((part) => (
            <section key={part.name} className="sheet-part">
              <h2>{words.sections[part.name]}</h2>
              <Lines part={part} />
            </section>
          ))}
        </>
      )}
      <HistoryPart sheet={sheet} words={words} />
    </>
  );
}
