// A contact with its ways and how they do, and a button that tries them all.
import { useState } from "react";
import type { ContactBody, TestedBody } from "#contract/notify.ts";
import { notifyApi } from "../../data/notify-api.ts";
import { useAct } from "../../data/use-act.ts";
import { alarmsText } from "../../text/alarms.ts";
import { tellText } from "../../text/tell.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly contact: ContactBody;
  /** One's own: asked for by another address. */
  readonly own: boolean;
  readonly onChange: () => void;
  /** Null: it cannot be removed here. */
  readonly onRemove: (() => void) | null;
}

export function ContactCard({ contact, own, onChange, onRemove }: Props) {
  const { text, clock, nowMs } = useVoice();
  const words = tellText(text);
  const { ways } = alarmsText(text);
  const [asks, setAsks] = useState(false);
  const [tested, setTested] = useState<TestedBody | null>(null);
  const act = useAct();
  const facts = [
    contact.quiet === null ? words.noQuiet : words.quiet(contact.quiet.from, contact.quiet.to),
    ...(contact.allWellAt === null ? [] : [words.allWell(contact.allWellAt)]),
    contact.sites === null ? words.every : contact.sites.map(({ site }) => site).join(", "),
  ];
  const test = async () => {
    setTested(null);
    const made = await act.run(() => notifyApi.test(own ? null : contact.id));
    setTested(made?.value ?? null);
  };
  return (
    <div className="contact">
      <h3>{contact.name}</h3>
      <p className="field-help">{facts.join(" · ")}</p>
      {contact.ways.length === 0 ? (
        <p className="alarm-trouble">{words.noWays}</p>
      ) : (
        <ul className="contact-ways">
          {contact.ways.map((way) => (
            <li key={way.id} className={way.state === "failing" ? "alarm-trouble" : undefined}>
              <b>{ways[way.kind]}</b> {way.label}
              {" · "}
              {words.form.levels[way.levels.includes("tell") ? "both" : way.levels.includes("wake") ? "wake" : "none"]}
              {way.state === "failing" &&
                ` · ${words.failing(way.failingSince === null ? "?" : clock.when(Date.parse(way.failingSince), nowMs))}${way.lastError === null ? "" : `: ${way.lastError}`}`}
            </li>
          ))}
        </ul>
      )}
      <p className="tell-acts">
        <button type="button" className="button" disabled={act.busy} onClick={() => void test()}>
          {words.test}
        </button>
        <button type="button" className="button" aria-label={`${words.change}: ${contact.name}`} onClick={onChange}>
          {words.change}
        </button>
        {onRemove !== null && !asks && (
          <button
            type="button"
            className="button"
            aria-label={`${words.remove}: ${contact.name}`}
            onClick={() => setAsks(true)}
          >
            {words.remove}
          </button>
        )}
        {onRemove !== null && asks && (
          <>
            <button type="button" className="button button-main" onClick={onRemove}>
              {words.sure}
            </button>
            <button type="button" className="button" onClick={() => setAsks(false)}>
              {words.keep}
            </button>
          </>
        )}
      </p>
      <div role="status">
        {act.busy && <p>{words.testing}</p>}
        {act.failed !== null && <p className="alarm-trouble">{act.failed}</p>}
        {tested !== null && (
          <>
            <p>
              <b>{words.tested}</b>
            </p>
            {tested.results.length === 0 && <p>{words.noWays}</p>}
            <ul>
              {tested.results.map((one) => (
                <li key={one.way} className={one.ok ? undefined : "alarm-trouble"}>
                  {one.ok ? "✓" : "×"} {ways[one.kind]} {one.label}: {one.ok ? words.works : one.detail}
                </li>
              ))}
            </ul>
          </>
        )}
      </div>
    </div>
  );
}
