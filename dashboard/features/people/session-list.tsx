// The devices that are signed in, each with the way to end it.
import { accessApi } from "../../data/access-api.ts";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import { deviceName } from "./device-name.ts";
import { SureButton } from "./sure-button.tsx";
import { useList } from "./use-list.ts";

export function SessionList() {
  const { text, clock, nowMs } = useVoice();
  const all = accessText(text);
  const words = all.people;
  const sessions = useList("sessions", accessApi.sessions);
  const when = (iso: string) => clock.when(Date.parse(iso), nowMs);
  const deviceOf = (agent: string) => {
    const { browser, system } = deviceName(agent);
    if (browser === null) return system ?? words.sessions.unknown;
    return system === null ? browser : words.sessions.on(browser, system);
  };
  return (
    <>
      <h2>{words.sessions.title}</h2>
      <p className="people-help">{words.sessions.help}</p>
      <p role="status">{sessions.said}</p>
      {sessions.items?.length === 0 && <p>{words.sessions.none}</p>}
      <ul className="entries">
        {(sessions.items ?? []).map((one) => (
          <li key={one.id}>
            <div className="entry">
              <p>
                <b>{one.name}</b>
                {one.own && ` (${words.here})`}
                <small>
                  {[
                    one.kind === "link" ? `${words.sessions.link}, ${all.roles[one.role]}` : all.roles[one.role],
                    deviceOf(one.device),
                    one.address,
                    words.sessions.since(when(one.madeAt)),
                    words.seen(when(one.seenAt)),
                  ].join(" · ")}
                </small>
              </p>
              <div className="entry-acts">
                <SureButton
                  label={words.sessions.end}
                  of={`${one.name}, ${deviceOf(one.device)}`}
                  onSure={() => void sessions.run(() => accessApi.endSession(one.id))}
                />
              </div>
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}
