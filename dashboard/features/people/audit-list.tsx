// Who did what and when, newest first, of everybody or of one; older lines are fetched by the page.
import { useEffect, useId, useRef, useState } from "react";
import type { AuditLineBody } from "#contract/access.ts";
import { accessApi } from "../../data/access-api.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import { useList } from "./use-list.ts";

const PAGE = 50;
const EVERYBODY = "";

export function AuditList() {
  const { text, clock, nowMs } = useVoice();
  const words = accessText(text).people;
  const people = useList("audit-people", accessApi.people);
  const [who, setWho] = useState(EVERYBODY);
  const [lines, setLines] = useState<readonly AuditLineBody[] | null>(null);
  const [more, setMore] = useState(false);
  const [away, setAway] = useState(false);
  const asked = useRef(EVERYBODY);
  const id = useId();
  const fetchOlder = async (of: string, known: readonly AuditLineBody[]) => {
    asked.current = of;
    try {
      const before = known.at(-1)?.seq ?? null;
      const older = await accessApi.audit({ who: of === EVERYBODY ? null : of, before, limit: PAGE });
      // Somebody else was chosen meanwhile.
      if (asked.current !== of) return;
      setLines([...known, ...older]);
      setMore(older.length === PAGE);
      setAway(false);
    } catch {
      setAway(true);
    }
  };
  useEffect(() => {
    setLines(null);
    void fetchOlder(who, []);
  }, [who]);
  const didOf = (did: string) => words.audit.did[did] ?? did;
  return (
    <>
      <h2>{words.audit.title}</h2>
      <p className="people-help">{words.audit.help}</p>
      <div className="field audit-filter">
        <label htmlFor={id}>{words.audit.filter}</label>
        <div className="field-row">
          <select id={id} value={who} onChange={(event) => setWho(event.target.value)}>
            <option value={EVERYBODY}>{words.audit.everybody}</option>
            {(people.items ?? []).map((person) => (
              <option key={person.id} value={person.name}>
                {person.name}
              </option>
            ))}
          </select>
        </div>
      </div>
      <p role="status">{away ? words.failed : lines?.length === 0 ? words.audit.none : ""}</p>
      <ol className="entries audit">
        {(lines ?? []).map((line) => (
          <li key={line.seq} className="entry">
            <time dateTime={line.at}>{clock.when(Date.parse(line.at), nowMs)}</time>
            <p>
              <b>{line.who ?? words.audit.nobody}</b> {didOf(line.did)}
              <small>{[line.site, line.about, line.address].filter((part) => (part ?? "") !== "").join(" · ")}</small>
            </p>
          </li>
        ))}
      </ol>
      {(more || away) && (
        <button type="button" className="button" onClick={() => void fetchOlder(who, lines ?? [])}>
          {words.audit.more}
        </button>
      )}
    </>
  );
}
