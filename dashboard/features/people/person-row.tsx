// One person: role, sites, when last seen; the owner can change it, hand out a new password link, or take the person away.
import { useState } from "react";
import type { AccessBody, PersonBody } from "#contract/access.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import { type Reach, reachFault, ReachFields } from "./reach-fields.tsx";
import { SureButton } from "./sure-button.tsx";

interface Props {
  readonly person: PersonBody;
  readonly sites: AccessBody["sites"];
  readonly own: boolean;
  readonly lastOwner: boolean;
  readonly onChange: (reach: Reach) => Promise<boolean>;
  readonly onReset: () => void;
  readonly onTake: () => void;
}

export function PersonRow({ person, sites, own, lastOwner, onChange, onReset, onTake }: Props) {
  const { text, clock, nowMs } = useVoice();
  const all = accessText(text);
  const words = all.people;
  const [draft, setDraft] = useState<Reach | null>(null);
  const [fault, setFault] = useState<string | undefined>();
  const nameOf = (id: string) => sites.find((site) => site.id === id)?.name ?? id;
  const save = async () => {
    if (draft === null) return;
    const wrong = reachFault(draft, words.pickSite);
    setFault(wrong);
    if (wrong === undefined && (await onChange(draft))) setDraft(null);
  };
  const facts = [
    all.roles[person.role],
    person.sites === null ? all.allSites : person.sites.map(nameOf).join(", "),
    person.seenAt === null ? words.neverSeen : words.seen(clock.when(Date.parse(person.seenAt), nowMs)),
  ];
  return (
    <li>
      <div className="entry">
        <p>
          <b>{person.name}</b>
          {own && ` (${words.list.you})`}
          <small>{facts.join(" · ")}</small>
        </p>
        {draft === null && (
          <div className="entry-acts">
            <button
              type="button"
              className="button"
              aria-label={`${words.list.change}: ${person.name}`}
              onClick={() => setDraft({ role: person.role, sites: person.sites })}
            >
              {words.list.change}
            </button>
            <button
              type="button"
              className="button"
              aria-label={`${words.list.reset}: ${person.name}`}
              onClick={onReset}
            >
              {words.list.reset}
            </button>
            {lastOwner ? (
              <small>{words.list.lastOwner}</small>
            ) : (
              <SureButton
                label={words.list.take}
                of={person.name}
                warning={words.list.takeSure(person.name)}
                onSure={onTake}
              />
            )}
          </div>
        )}
      </div>
      {draft !== null && (
        <form
          className="entry-form"
          onSubmit={(event) => {
            event.preventDefault();
            void save();
          }}
        >
          <ReachFields reach={draft} sites={sites} error={fault} onChange={setDraft} />
          <div className="entry-acts">
            <button type="submit" className="button button-main">
              {words.list.save}
            </button>
            <button type="button" className="button" onClick={() => setDraft(null)}>
              {words.list.cancel}
            </button>
          </div>
        </form>
      )}
    </li>
  );
}
