// Calendars of one's own: secret addresses for a calendar program, made, shown once, withdrawn.
import { useState } from "react";
import type { CalendarMadeBody } from "#contract/calendar.ts";
import { notifyApi } from "../../data/notify-api.ts";
import { useAct } from "../../data/use-act.ts";
import { useAsked } from "../../data/use-asked.ts";
import { tellText } from "../../text/tell.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";

export function CalendarPart({ site }: { readonly site: string }) {
  const { text, clock, nowMs } = useVoice();
  const words = tellText(text).calendar;
  const [round, setRound] = useState(0);
  const [label, setLabel] = useState<string>(words.labelFirst);
  const [made, setMade] = useState<CalendarMadeBody | null>(null);
  const act = useAct();
  const asked = useAsked(() => notifyApi.calendars(site), `calendars ${site}`, String(round));
  const run = async <T,>(work: () => Promise<T>) => {
    const done = await act.run(work);
    setRound((before) => before + 1);
    return done;
  };
  const make = async () => {
    const wish = { label: label.trim() || words.labelFirst, language: text.lang === "es" ? "es" : "en" } as const;
    setMade((await run(() => notifyApi.makeCalendar(site, wish)))?.value ?? null);
  };
  const withdraw = async (id: string) => {
    await run(() => notifyApi.withdrawCalendar(site, id));
    if (made?.id === id) setMade(null);
  };
  const address = made === null ? null : new URL(made.path, globalThis.location.origin);
  return (
    <>
      <h2>{words.title}</h2>
      <p className="field-help">{words.lead}</p>
      <ul className="contacts">
        {(asked.value ?? []).map((one) => (
          <li key={one.id} className="tell-acts">
            <span>
              <b>{one.label}</b> ·{" "}
              {one.seenAt === null ? words.never : words.asked(clock.when(Date.parse(one.seenAt), nowMs))}
            </span>
            <button
              type="button"
              className="button"
              aria-label={`${words.withdraw}: ${one.label}`}
              disabled={act.busy}
              onClick={() => void withdraw(one.id)}
            >
              {words.withdraw}
            </button>
          </li>
        ))}
      </ul>
      {address === null ? (
        <div className="tell-new">
          <Field label={words.label} type="text" value={label} onType={setLabel} />
          <button type="button" className="button" disabled={act.busy} onClick={() => void make()}>
            {words.make}
          </button>
        </div>
      ) : (
        <div className="tell-secret" role="status">
          <p>{words.once}</p>
          <code>{address.href}</code>
          <p className="tell-acts">
            <a className="button button-main" href={`webcal://${address.host}${address.pathname}`}>
              {words.open}
            </a>
            <button type="button" className="button" onClick={() => setMade(null)}>
              {words.putAway}
            </button>
          </p>
        </div>
      )}
      <p role="status" className="alarm-trouble">
        {act.failed}
      </p>
    </>
  );
}
