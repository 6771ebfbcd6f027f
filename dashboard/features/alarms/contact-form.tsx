// The form of a contact: who, by which ways, how loud, when not, and for what.
import { type ReactNode, useId, useState } from "react";
import type { ContactBody } from "#contract/notify.ts";
import { tellText } from "../../text/tell.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import {
  type CaresWish,
  type ContactDraft,
  type ContactFault,
  draftOf,
  faultsOf,
  type LevelsWish,
} from "./contact-draft.ts";

export interface SiteZones {
  readonly site: string;
  readonly zones: readonly { readonly id: string; readonly name: string }[];
}

interface Props extends SiteZones {
  readonly contact: ContactBody | null;
  readonly firstName: string;
  /** Web hooks are an owner's to set, and nobody's own. */
  readonly hooks: boolean;
  readonly busy: boolean;
  readonly onSave: (draft: ContactDraft) => void;
  readonly onCancel: (() => void) | null;
}

function TimeField(props: {
  readonly label: string;
  readonly value: string;
  readonly onType: (value: string) => void;
}) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{props.label}</label>
      <div className="field-row">
        <input id={id} type="time" value={props.value} onChange={({ target }) => props.onType(target.value)} />
      </div>
    </div>
  );
}

export function ContactForm({ contact, firstName, site, zones, hooks, busy, onSave, onCancel }: Props) {
  const { text, units } = useVoice();
  const words = tellText(text).form;
  const first = { name: firstName, language: text.lang === "es" ? "es" : "en", units } as const;
  const [draft, setDraft] = useState(() => draftOf(contact, site, first));
  const [faults, setFaults] = useState<ReadonlySet<ContactFault>>(new Set());
  const set = (part: Partial<ContactDraft>) => setDraft({ ...draft, ...part });
  const say = (fault: ContactFault, why: string) => (faults.has(fault) ? why : undefined);
  const yesNo = (label: string, value: boolean, pick: (yes: boolean) => void, error?: string) => (
    <Choice
      label={label}
      options={{ yes: words.yes, no: words.no }}
      value={value ? "yes" : "no"}
      error={error}
      onPick={(picked) => pick(picked === "yes")}
    />
  );
  const levels = (label: string, value: LevelsWish, pick: (levels: LevelsWish) => void): ReactNode => (
    <Choice label={label} options={words.levels} value={value} onPick={(picked) => pick(picked as LevelsWish)} />
  );
  const { other, ...caresHere } = words.caresFor;
  const hadOthers = (contact?.sites ?? []).some((one) => one.site !== site);
  const ownsHook = contact?.ways.some(({ kind }) => kind === "webhook") === true;
  return (
    <form
      className="tell-form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const found = faultsOf(draft);
        setFaults(found);
        if (found.size === 0) onSave(draft);
      }}
    >
      <Field
        label={words.name}
        type="text"
        value={draft.name}
        error={say("name", words.needName)}
        onType={(name) => set({ name })}
      />
      <Choice
        label={words.language}
        options={words.languages}
        value={draft.language}
        onPick={(picked) => set({ language: picked === "es" ? "es" : "en" })}
      />
      <Choice
        label={words.units}
        options={{ us: "°F", si: "°C" }}
        value={draft.units}
        onPick={(picked) => set({ units: picked === "us" ? "us" : "si" })}
      />
      <Field
        label={words.mail}
        type="text"
        fill="email"
        value={draft.mail}
        error={say("mail", words.badMail)}
        onType={(mail) => set({ mail })}
      />
      {draft.mail.trim() !== "" && levels(words.mailLevels, draft.mailLevels, (mailLevels) => set({ mailLevels }))}
      {levels(words.pushLevels, draft.pushLevels, (pushLevels) => set({ pushLevels }))}
      {yesNo(words.quiet, draft.quiet, (quiet) => set({ quiet }), say("quiet", words.needTime))}
      <p className="field-help">{words.quietHelp}</p>
      {draft.quiet && (
        <div className="tell-times">
          <TimeField label={words.from} value={draft.quietFrom} onType={(quietFrom) => set({ quietFrom })} />
          <TimeField label={words.to} value={draft.quietTo} onType={(quietTo) => set({ quietTo })} />
        </div>
      )}
      {yesNo(words.allWell, draft.allWell, (allWell) => set({ allWell }), say("allWell", words.needTime))}
      <p className="field-help">{words.allWellHelp}</p>
      {draft.allWell && (
        <div className="tell-times">
          <TimeField label={words.at} value={draft.allWellAt} onType={(allWellAt) => set({ allWellAt })} />
        </div>
      )}
      <Choice
        label={words.cares}
        options={hadOthers ? { ...caresHere, other } : caresHere}
        value={draft.cares}
        error={say("zones", words.needZone)}
        onPick={(picked) => set({ cares: picked as CaresWish })}
      />
      {draft.cares === "zones" && (
        <ul className="tell-zones">
          {zones.map(({ id, name }) => (
            <li key={id}>
              <label className="check">
                <input
                  type="checkbox"
                  checked={draft.zones.includes(id)}
                  onChange={({ target }) =>
                    set({ zones: target.checked ? [...draft.zones, id] : draft.zones.filter((one) => one !== id) })
                  }
                />
                <span>{name}</span>
              </label>
            </li>
          ))}
        </ul>
      )}
      {hooks && (
        <Field
          label={words.hook}
          type="text"
          fill="url"
          value={draft.hook}
          help={words.hookHelp}
          error={say("hook", words.badHook)}
          onType={(hook) => set({ hook })}
        />
      )}
      {hooks && ownsHook && yesNo(words.hookOut, draft.hookOut, (hookOut) => set({ hookOut }))}
      <p className="tell-acts">
        <button type="submit" className="button button-main" disabled={busy}>
          {tellText(text).save}
        </button>
        {onCancel !== null && (
          <button type="button" className="button" onClick={onCancel}>
            {tellText(text).cancel}
          </button>
        )}
      </p>
    </form>
  );
}
