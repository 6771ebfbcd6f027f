// Which coats the floor of this site gets: the list that a new zone begins with.
import type { SheetBody } from "#contract/sheet.ts";
import { STARTERS } from "#core/cure/sheet-starters.ts";
import { planText } from "../../text/plan.ts";
import { setUpText } from "../../text/set-up.ts";
import { Choice } from "../../ui/choice.tsx";
import { OrderedList } from "../../ui/ordered-list.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { SheetConfirm } from "./sheet-confirm.tsx";

interface Props {
  /** Null while they are on their way. */
  readonly sheets: readonly SheetBody[] | null;
  readonly system: readonly string[];
  readonly sheetsHref: (sheet: string | null) => string;
  readonly busy: boolean;
  readonly failed: string | null;
  readonly onChange: (system: readonly string[]) => void;
  readonly onStarter: (sheet: SheetBody) => void;
  readonly onConfirm: (sheet: SheetBody) => void;
}

export function CoatsStep({ sheets, system, sheetsHref, busy, failed, onChange, onStarter, onConfirm }: Props) {
  const { text } = useVoice();
  const words = setUpText(text);
  if (sheets === null) return <p>{text.app.loading}</p>;
  const starters = STARTERS.filter(({ id, kind }) => kind !== "filler" && !sheets.some((sheet) => sheet.id === id));
  const unconfirmed = sheets.filter(({ id, confirmed }) => confirmed === null && system.includes(id));
  const begin = (id: string) => {
    const starter = starters.find((one) => one.id === id);
    if (starter === undefined || busy) return;
    onStarter(JSON.parse(JSON.stringify(starter)) as SheetBody);
    onChange([...system, id]);
  };
  return (
    <div className="set-up-form">
      <p className="set-up-lead">{words.coatsHelp}</p>
      {sheets.length === 0 ? (
        <p>{words.noSheets}</p>
      ) : (
        <OrderedList
          label={words.coatsSystem}
          value={system}
          options={Object.fromEntries(sheets.map(({ id, name }) => [id, name]))}
          words={planText(text).coats}
          onChange={onChange}
        />
      )}
      {system.length > 0 && <p role="status">{words.coatsKept(system.length)}</p>}
      {unconfirmed.map((sheet) => (
        <SheetConfirm
          key={sheet.id}
          sheet={sheet}
          href={sheetsHref(sheet.id)}
          busy={busy}
          onConfirm={() => onConfirm(sheet)}
        />
      ))}
      <a className={sheets.length === 0 ? "button button-main" : "button"} href={sheetsHref(null)}>
        {words.sheetsPage}
      </a>
      {starters.length > 0 && (
        <div className="set-up-part">
          <Choice
            label={words.starters}
            options={Object.fromEntries(starters.map(({ id, name }) => [id, name]))}
            value=""
            onPick={begin}
          />
          <p className="field-help">{words.startersHelp}</p>
        </div>
      )}
      {failed !== null && (
        <p className="field-error" role="alert">
          {words.refused(failed)}
        </p>
      )}
    </div>
  );
}
