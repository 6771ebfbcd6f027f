// All sheets, and each on its own page. A new one begins empty or with an invented example.
import { useState } from "react";
import { sheetWarnings } from "#core/cure/sheet-sanity.ts";
import { STARTERS } from "#core/cure/sheet-starters.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { sheetsApi } from "../../data/sheets-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { sheetsText } from "../../text/sheets.ts";
import { useVoice } from "../../ui/voice.tsx";
import { draftOf } from "./draft.ts";
import { SheetEditor } from "./sheet-editor.tsx";
import { SheetView } from "./sheet-view.tsx";
import { StateLine } from "./state-line.tsx";
import "./sheets.css";

interface Props {
  /** Id of a sheet, or `new`, `new-filler`, `new-from-…`; null = all. */
  readonly part: string | null;
  readonly plans: boolean;
  readonly by: string | null;
  readonly onBy: ((by: string) => void) | null;
  readonly hrefOf: (part: string | null) => string;
  readonly onGo: (part: string | null) => void;
}

const NONE: [null, null] = [null, null];
const EMPTY = {
  id: "",
  name: "",
  limits: {
    slabC: NONE,
    airC: NONE,
    rhPct: NONE,
    waterGPerKg: NONE,
    dewMarginK: Number.NaN,
    resinC: NONE,
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [],
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: [],
} satisfies SheetBody;
const FROM = "new-from-";

/** The core's form of an example has read-only lists; on the wire it is the same. */
const bodyOfStarter = (starter: Sheet) => structuredClone(starter) as unknown as SheetBody;

function firstOf(part: string): SheetBody | null {
  if (part === "new") return EMPTY;
  if (part === "new-filler") return { ...EMPTY, kind: "filler", window: "open", seals: false };
  const starter = STARTERS.find(({ id }) => part === `${FROM}${id}`);
  return starter === undefined ? null : bodyOfStarter(starter);
}

export default function SheetsPage({ part, plans, by, onBy, hrefOf, onGo }: Props) {
  const { text, units } = useVoice();
  const words = sheetsText(text);
  const [written, setWritten] = useState(0);
  const asked = useAsked(sheetsApi.all, "sheets", String(written));
  const sheets = asked.value;
  const taken = (sheets ?? []).map(({ id }) => id);
  const changed = () => setWritten((before) => before + 1);
  const back = (
    <a className="zone-back" href={hrefOf(null)}>
      ‹ {words.back}
    </a>
  );
  if (sheets === null) return <p className="empty">{asked.failed ? text.app.failed : text.app.loading}</p>;
  if (part !== null) {
    const known = sheets.find(({ id }) => id === part);
    const first = known === undefined ? firstOf(part) : null;
    return (
      <section className="sheets">
        {back}
        {known !== undefined && (
          <SheetView sheet={known} taken={taken} plans={plans} by={by} onBy={onBy} onChanged={changed} />
        )}
        {first !== null && plans && (
          <>
            <h1>{first.kind === "filler" ? words.newFiller : words.newCoat}</h1>
            {part.startsWith(FROM) && <p className="sheet-caution">{words.startersHelp}</p>}
            <SheetEditor
              key={part}
              first={draftOf(first, units, true)}
              taken={taken}
              by={by}
              onBy={onBy}
              onSaved={(sheet) => {
                changed();
                onGo(sheet.id);
              }}
              onCancel={() => onGo(null)}
            />
          </>
        )}
        {known === undefined && first === null && <p className="empty">{words.gone}</p>}
        {first !== null && !plans && <p className="empty">{words.barred}</p>}
      </section>
    );
  }
  return (
    <section className="sheets">
      <h1>{words.title}</h1>
      <p>{words.intro}</p>
      {sheets.length === 0 && <p>{words.none}</p>}
      <ul className="sheet-list">
        {sheets.map((sheet) => {
          const odd = sheetWarnings(sheet).filter(({ kind }) => kind !== "dew-safe-estimated").length;
          return (
            <li key={sheet.id}>
              <a href={hrefOf(sheet.id)}>
                <b>{sheet.name}</b> <small>{words.kinds[sheet.kind ?? "coat"]}</small>
                <StateLine sheet={sheet} words={words} />
                {odd > 0 && <p className="figure-doubt">{words.doubts(odd)}</p>}
              </a>
            </li>
          );
        })}
      </ul>
      {plans && (
        <>
          <div className="sheet-acts">
            <a className="button button-main" href={hrefOf("new")}>
              {words.newCoat}
            </a>
            <a className="button" href={hrefOf("new-filler")}>
              {words.newFiller}
            </a>
          </div>
          <section className="sheet-part">
            <h2>{words.starters}</h2>
            <p>{words.startersHelp}</p>
            <div className="sheet-acts">
              {STARTERS.map(({ id }) => (
                <a key={id} className="button" href={hrefOf(`${FROM}${id}`)}>
                  {words.starterNames[id] ?? id}
                </a>
              ))}
            </div>
          </section>
        </>
      )}
    </section>
  );
}
