// Who is told of alarms at a site, in which order, by which ways, and when not.
import { useState } from "react";
import type { ContactBody } from "#contract/notify.ts";
import { ApiFailure } from "../../data/api.ts";
import { notifyApi } from "../../data/notify-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { tellText } from "../../text/tell.ts";
import { useVoice } from "../../ui/voice.tsx";
import { CalendarPart } from "./calendar-part.tsx";
import { ContactCard } from "./contact-card.tsx";
import { type ContactDraft, hookWishOf, wishOf } from "./contact-draft.ts";
import { ContactForm, type SiteZones } from "./contact-form.tsx";
import { Heartbeat } from "./heartbeat.tsx";
import { OnCall } from "./on-call.tsx";
import { ThisDevice } from "./this-device.tsx";
import "./alarms.css";
import "./who.css";

interface Props extends SiteZones {
  /** Who is signed in; null where nobody is. */
  readonly person: string | null;
  readonly plans: boolean;
  /** Not bound to some of the sites. */
  readonly everywhere: boolean;
  readonly owns: boolean;
  readonly backHref: string;
}

const NEW = "new";
const OWN = "own";

export function WhoPage({ site, zones, person, plans, everywhere, owns, backHref }: Props) {
  const { text } = useVoice();
  const words = tellText(text);
  const [round, setRound] = useState(0);
  const [editing, setEditing] = useState<string | null>(null);
  const [said, setSaid] = useState<{ readonly ok: boolean; readonly text: string } | null>(null);
  const [secret, setSecret] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const reason = String(round);
  const onCall = useAsked(() => notifyApi.onCall(site), `on-call ${site}`, reason);
  const keeps = plans && everywhere;
  const contacts = useAsked(async () => (keeps ? await notifyApi.contacts() : []), `contacts ${keeps}`, reason);
  const own = useAsked(async () => (person === null ? null : { is: await notifyApi.own() }), `own ${person}`, reason);

  const run = async (work: () => Promise<unknown>) => {
    setBusy(true);
    setSaid(null);
    try {
      await work();
      setSaid({ ok: true, text: words.done });
      setEditing(null);
    } catch (cause) {
      const refused = cause instanceof ApiFailure && cause.kind === "refused";
      const why = refused ? (cause.status === 403 ? words.barred : cause.message) : words.failed;
      setSaid({ ok: false, text: why });
    }
    setBusy(false);
    setRound((before) => before + 1);
  };
  const save = (before: ContactBody | null) => (draft: ContactDraft) =>
    void run(async () => {
      const wish = { ...wishOf(draft, before, site), ...(owns ? hookWishOf(draft) : {}) };
      const made = before === null ? await notifyApi.add(wish) : await notifyApi.change(before.id, wish);
      setSecret(made.webhookSecret);
    });
  const form = (contact: ContactBody | null, firstName: string, mine: boolean) => (
    <ContactForm
      key={contact?.id ?? NEW}
      {...{ site, zones, contact, firstName, busy }}
      hooks={owns && !mine}
      onSave={mine ? (draft) => void run(() => notifyApi.putOwn(wishOf(draft, contact, site))) : save(contact)}
      onCancel={mine && contact === null ? null : () => setEditing(null)}
    />
  );
  const list = contacts.value ?? [];
  const mine = own.value?.is ?? null;
  const failed = onCall.failed || contacts.failed || own.failed;
  return (
    <section className="alarms tell">
      <div className="alarms-head">
        <h2>{words.title}</h2>
        <a className="button" href={backHref}>
          {words.back}
        </a>
      </div>
      <p>{words.lead}</p>
      <div role="status">
        {failed && <p className="alarm-trouble">{words.failed}</p>}
        {said !== null && <p className={said.ok ? undefined : "alarm-trouble"}>{said.text}</p>}
      </div>
      {secret !== null && (
        <p className="tell-secret">
          <b>{words.secret}:</b> <code>{secret}</code>
        </p>
      )}
      {person !== null && own.value !== null && (
        <>
          <h2>{words.own}</h2>
          {mine !== null && editing !== OWN ? (
            <ContactCard contact={mine} own onChange={() => setEditing(OWN)} onRemove={null} />
          ) : (
            form(mine, person, true)
          )}
        </>
      )}
      <ThisDevice
        contacts={list}
        own={mine}
        accounts={person !== null}
        onDone={() => setRound((before) => before + 1)}
      />
      {onCall.value !== null && (
        <OnCall
          onCall={onCall.value}
          onOrder={plans ? (order) => void run(() => notifyApi.putOnCall(site, order)) : null}
        />
      )}
      {plans && !everywhere && (
        <>
          <h2>{words.contacts}</h2>
          <p>{words.contactsElsewhere}</p>
        </>
      )}
      {keeps && (
        <>
          <h2>{words.contacts}</h2>
          {contacts.value !== null && list.length === 0 && <p>{words.noContacts}</p>}
          <ul className="contacts">
            {list.map((contact) => (
              <li key={contact.id}>
                {editing === contact.id ? (
                  form(contact, "", false)
                ) : (
                  <ContactCard
                    contact={contact}
                    own={false}
                    onChange={() => setEditing(contact.id)}
                    onRemove={() => void run(() => notifyApi.remove(contact.id))}
                  />
                )}
              </li>
            ))}
          </ul>
          {editing === NEW ? (
            form(null, "", false)
          ) : (
            <p className="tell-acts">
              <button type="button" className="button" onClick={() => setEditing(NEW)}>
                {words.add}
              </button>
            </p>
          )}
        </>
      )}
      <CalendarPart site={site} />
      {keeps && <Heartbeat />}
    </section>
  );
}
