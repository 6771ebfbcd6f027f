// The journal of a zone, newest first, with who and when; what was taken back stays and is struck through.
import type { EntryBody } from "#contract/journal.ts";
import { aheadText } from "../../text/ahead.ts";
import { journalText } from "../../text/journal.ts";
import { useVoice } from "../../ui/voice.tsx";
import { entryWords } from "./entry-words.ts";
import { takenBack } from "./standing.ts";

interface Props {
  readonly entries: readonly EntryBody[];
  /** Ids of entries that the server has not yet answered for. */
  readonly waiting: ReadonlySet<string>;
}

const SHOWN = 40;

export function JournalList({ entries, waiting }: Props) {
  const voice = useVoice();
  const words = journalText(voice.text);
  const gone = takenBack(entries);
  const newest = entries.filter((entry) => entry.did !== "undone").sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  return (
    <section className="journal" aria-label={words.list}>
      <h2>{words.list}</h2>
      <p className="pad-help">{aheadText(voice.text).helps.journal}</p>
      {newest.length === 0 && <p>{words.empty}</p>}
      <ol>
        {newest.slice(0, SHOWN).map((entry) => {
          const id = entry.id ?? `${entry.did}${entry.at}`;
          const said = entryWords(entry, voice);
          const marks = [
            entry.by,
            (entry.zone ?? null) === null ? words.siteWide : null,
            gone.has(id) ? words.takenBack : null,
            waiting.has(id) ? words.notSent : null,
          ];
          return (
            <li key={id}>
              <time dateTime={entry.at}>{voice.clock.when(Date.parse(entry.at), voice.nowMs)}</time>
              <span>
                {gone.has(id) ? <s>{said}</s> : said}
                <small>{marks.filter((mark) => mark !== null && mark !== undefined).join(" · ")}</small>
              </span>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
