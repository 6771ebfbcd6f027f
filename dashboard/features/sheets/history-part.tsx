// Every version of a sheet, newest first: who typed and who confirmed it, and what changed.
import type { SheetBody } from "#contract/sheet.ts";
import { sheetsApi } from "../../data/sheets-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import type { SheetsText } from "../../text/en-sheets.ts";
import { useVoice } from "../../ui/voice.tsx";
import { changesOf } from "./parts-of.ts";
import { StateLine } from "./state-line.tsx";

interface Props {
  readonly sheet: SheetBody;
  readonly words: SheetsText;
}

export function HistoryPart({ sheet, words }: Props) {
  const { clock, nowMs, units, text } = useVoice();
  const asked = useAsked(
    () => sheetsApi.versions(sheet.id),
    sheet.id,
    `${sheet.saved?.revision ?? 0} ${sheet.confirmed?.at ?? ""}`,
  );
  const versions = asked.value ?? [];
  return (
    <section className="sheet-part">
      <h2>{words.history}</h2>
      <p className="field-help">{words.historyHelp}</p>
      {asked.failed && versions.length === 0 && <p>{text.app.failed}</p>}
      <ol className="sheet-history">
        {versions
          .map((version, index) => ({ version, before: versions[index - 1] ?? null }))
          .reverse()
          .map(({ version: { from, sheet: kept }, before }) => {
            const changes = before === null ? [] : changesOf(before.sheet, kept, units, words);
            const { saved } = kept;
            return (
              <li key={`${from} ${saved?.revision ?? 0} ${kept.confirmed?.at ?? ""}`}>
                <h3>
                  {saved === undefined ? words.early : words.version(saved.revision)}
                  <small>
                    {clock.when(Date.parse(from), nowMs)} · {words.typedBy(saved?.by ?? words.somebody)}
                    {saved?.corrects === true ? ` · ${words.slip}` : ""}
                  </small>
                </h3>
                {saved?.note !== undefined && <p>{saved.note}</p>}
                {kept.confirmed === null ? <p>{words.notYet}</p> : <StateLine sheet={kept} words={words} />}
                {before === null ? (
                  <p>{words.first}</p>
                ) : changes.length === 0 ? (
                  <p>
                    {words.changed}: {words.nothing}
                  </p>
                ) : (
                  <dl className="sheet-lines">
                    {changes.map(({ label, before: was, after }) => (
                      <div key={label}>
                        <dt>{label}</dt>
                        <dd>{words.to(was ?? words.empty, after ?? words.empty)}</dd>
                      </div>
                    ))}
                  </dl>
                )}
              </li>
            );
          })}
      </ol>
    </section>
  );
}
