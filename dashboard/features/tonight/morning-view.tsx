// The morning: in which order to work, and what the night has brought.
import type { BoardBody } from "#contract/board.ts";
import { tonightText } from "../../text/tonight.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { useVoice } from "../../ui/voice.tsx";
import type { Morning } from "./morning.ts";
import type { ComeBackLine } from "./tonight-view.tsx";
import { alarmWords, changeWords, nightWords, workWords } from "./tonight-words.ts";

interface Props {
  readonly morning: Morning;
  readonly board: BoardBody;
  readonly old: boolean;
  readonly comeBack: ReadonlyMap<string, ComeBackLine>;
  /** The alarms of the night are still asked for. */
  readonly asking: boolean;
  readonly zoneHref: (zone: string) => string;
}

export function MorningView({ morning, board, old, comeBack, asking, zoneHref }: Props) {
  const voice = useVoice();
  const words = tonightText(voice.text);
  const { work, changes, nights, rang, written, knownFromMs } = morning;
  const zones = board.zones.filter(
    ({ zone: { id } }) =>
      changes.some(({ item }) => item.zone.id === id) || nights.some(({ item }) => item.zone.id === id),
  );
  return (
    <>
      <section className="night-part" aria-labelledby="night-work">
        <h3 id="night-work">{words.work}</h3>
        {work.length === 0 && <p>{words.workNone}</p>}
        <ol className="night-zones night-work">
          {work.map((one) => {
            const { zone, call } = one.item;
            const back = comeBack.get(zone.id);
            return (
              <li key={zone.id} className={`night-why-${one.why}`}>
                <a href={zoneHref(zone.id)}>
                  <span className="night-zone">
                    <b>{zone.name}</b>
                    <CallWord call={call} old={old} />
                  </span>
                  <span className="night-level">{workWords(one, voice)}</span>
                  {back !== undefined && (
                    <span className="night-said">
                      <b>{back.when}</b> {back.what}
                    </span>
                  )}
                </a>
              </li>
            );
          })}
        </ol>
      </section>
      <section className="night-part" aria-labelledby="night-over">
        <h3 id="night-over">{words.overnight}</h3>
        {knownFromMs !== null && (
          <p className="night-help">{words.knownFrom(voice.clock.when(knownFromMs, voice.nowMs))}</p>
        )}
        {zones.length === 0 && <p>{words.nothingHappened}</p>}
        <ul className="night-over">
          {zones.map((item) => {
            const said = nights.filter((night) => night.item === item).map((night) => nightWords(night, voice));
            return (
              <li key={item.zone.id}>
                <b>{item.zone.name}</b>
                {said.map((one) => (
                  <span key={one}>{one}.</span>
                ))}
                {changes
                  .filter((change) => change.item === item)
                  .map((change) => (
                    <span key={change.atMs}>{changeWords(change, voice)}</span>
                  ))}
              </li>
            );
          })}
        </ul>
        {written !== null && written.length > 0 && <p>{words.written(written.length)}</p>}
      </section>
      {!asking && (
        <section className="night-part" aria-labelledby="night-rang">
          <h3 id="night-rang">{words.rang}</h3>
          {rang === null && <p>{words.rangUnknown}</p>}
          {rang?.length === 0 && <p>{words.rangNone}</p>}
          <ul className="night-over">
            {(rang ?? []).map((alarm) => (
              <li key={alarm.id}>{alarmWords(alarm, board, voice)}</li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
