// The people, the invitations that nobody has taken yet, and the form for another one.
import { useState } from "react";
import type { AccessBody } from "#contract/access.ts";
import { accessApi } from "../../data/access-api.ts";
import { accessText } from "../../text/access.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { Once } from "./once.tsx";
import { PersonRow } from "./person-row.tsx";
import { type Reach, reachFault, ReachFields } from "./reach-fields.tsx";
import { SureButton } from "./sure-button.tsx";
import { useList } from "./use-list.ts";

interface Props {
  readonly own: string;
  readonly sites: AccessBody["sites"];
}

interface Made {
  readonly title: string;
  readonly path: string;
  readonly expiresAt: string;
}

export function PeopleList({ own, sites }: Props) {
  const { text, clock, nowMs } = useVoice();
  const all = accessText(text);
  const words = all.people;
  const people = useList("people", accessApi.people);
  const open = useList("invitations", accessApi.invitations);
  const [reach, setReach] = useState<Reach>({ role: "helper", sites: null });
  const [note, setNote] = useState("");
  const [fault, setFault] = useState<string | undefined>();
  const [made, setMade] = useState<Made | null>(null);
  const when = (iso: string) => clock.when(Date.parse(iso), nowMs);
  const owners = (people.items ?? []).filter((person) => person.role === "owner").length;
  const invite = async () => {
    const wrong = reachFault(reach, words.pickSite);
    setFault(wrong);
    if (wrong !== undefined) return;
    const sitesWished = reach.sites === null ? null : [...reach.sites];
    await open.run(async () => {
      const answer = await accessApi.invite({
        role: reach.role,
        sites: sitesWished,
        ...(note.trim() === "" ? {} : { note: note.trim() }),
      });
      setMade({ title: words.invite.made, path: answer.path, expiresAt: answer.expiresAt });
      setNote("");
    });
  };
  return (
    <>
      <h2>{words.list.title}</h2>
      <p className="people-help">{words.list.help}</p>
      {made !== null && (
        <Once
          title={made.title}
          path={made.path}
          ends={words.until(when(made.expiresAt))}
          onPutAway={() => setMade(null)}
        />
      )}
      <p role="status">{people.said}</p>
      {people.items?.length === 0 && <p>{words.list.empty}</p>}
      <ul className="entries">
        {(people.items ?? []).map((person) => (
          <PersonRow
            key={person.id}
            person={person}
            sites={sites}
            own={person.name === own}
            lastOwner={person.role === "owner" && owners === 1}
            onChange={({ role, sites: to }) =>
              people.run(() => accessApi.changePerson(person.id, { role, sites: to === null ? null : [...to] }))
            }
            onReset={() =>
              void people.run(async () => {
                const answer = await accessApi.resetPerson(person.id);
                setMade({ title: words.invite.resetMade(person.name), ...answer });
              })
            }
            onTake={() => void people.run(() => accessApi.removePerson(person.id))}
          />
        ))}
      </ul>
      <h2>{words.invite.title}</h2>
      <form
        className="entry-form"
        onSubmit={(event) => {
          event.preventDefault();
          void invite();
        }}
      >
        <Field label={words.invite.note} type="text" value={note} onType={setNote} />
        <ReachFields reach={reach} sites={sites} error={fault} onChange={setReach} />
        <button type="submit" className="button button-main">
          {words.invite.go}
        </button>
        <p role="status">{open.said}</p>
      </form>
      <h2>{words.invite.open}</h2>
      {open.items?.length === 0 && <p>{words.invite.none}</p>}
      <ul className="entries">
        {(open.items ?? []).map((one) => (
          <li key={one.id}>
            <div className="entry">
              <p>
                <b>{one.note ?? all.roles[one.role]}</b>
                <small>
                  {[
                    // Without a note the role is its name already.
                    ...(one.note === null ? [] : [all.roles[one.role]]),
                    ...(one.by === null ? [] : [words.by(one.by)]),
                    words.until(when(one.expiresAt)),
                  ].join(" · ")}
                </small>
              </p>
              <div className="entry-acts">
                <SureButton
                  label={words.invite.back}
                  of={one.note ?? all.roles[one.role]}
                  onSure={() => void open.run(() => accessApi.takeBack(one.id))}
                />
              </div>
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}
