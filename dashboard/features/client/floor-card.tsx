// One floor for its owner, or several of which the same is to be said: three dates in large words, and what to leave alone.
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import type { Floors } from "./groups.ts";

export function FloorCard({ floors }: { readonly floors: Floors }) {
  const [floor] = floors;
  const { text, clock, nowMs } = useVoice();
  const words = accessText(text).client;
  const said = (at: string | null) => {
    if (at === null) return <b>{words.ask}</b>;
    const atMs = Date.parse(at);
    const when = `${clock.day(atMs)}, ${clock.time(atMs)}`;
    return atMs <= nowMs ? <b className="client-met">{words.since(when)}</b> : <b>{words.notBefore(when)}</b>;
  };
  const uses = [
    { name: words.walk, at: floor.walkOnAt },
    { name: words.wash, at: floor.washAt },
    { name: words.drive, at: floor.driveOnAt },
  ];
  return (
    <section className="client-floor" aria-label={floors.map(({ name }) => name).join(", ")}>
      <h2>
        {floors.map(({ zone, name }) => (
          <span key={zone}>{name}</span>
        ))}
      </h2>
      {floor.floor === "last-coat" ? (
        <dl>
          {uses.map(({ name, at }) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{said(at)}</dd>
            </div>
          ))}
        </dl>
      ) : (
        <p className="client-later">{floor.floor === "bare" ? words.bare : words.moreCoats}</p>
      )}
      {floor.leave.length > 0 && (
        <>
          <h3>{words.leave}</h3>
          <ul>
            {floor.leave.map((one) => (
              <li key={one}>{words.leaves[one]}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
