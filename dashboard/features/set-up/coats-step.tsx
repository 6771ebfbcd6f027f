// Which coats the floor of this site gets: the list that a new zone begins with.
import type { SheetBody } from "#contract/sheet.ts";
import { planText } from "../../text/plan.ts";
import { setUpText } from "../../text/set-up.ts";
import { OrderedList } from "../../ui/ordered-list.tsx";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  /** Null while they are on their way. */
  readonly sheets: readonly SheetBody[] | null;
  readonly system: readonly string[];
  readonly sheetsHref: (sheet: string | null) => string;
  readonly onChange: (system: readonly string[]) => void;
}

export function CoatsStep({ sheets, system, sheetsHref, onChange }: Props) {
  const { text } = useVoice();
  const words = setUpText(text);
  if (sheets === null) return <p>{text.app.loading}</p>;
  const unconfirmed = sheets.filter(({ id, confirmed }) => confirmed === null && system.includes(id));
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
      {unconfirmed.map(({ id, name }) => (
        <div key={id} className="set-up-warn">
          <p>{words.unconfirmed(name)}</p>
          <a className="button" href={sheetsHref(id)}>
            {words.confirmNow}
          </a>
        </div>
      ))}
      <a className={sheets.length === 0 ? "button button-main" : "button"} href={sheetsHref(null)}>
        {words.sheetsPage}
      </a>
    </div>
  );
}
