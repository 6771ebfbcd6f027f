// The evening: what to do before leaving, and what the night holds for each zone, worst first.
import type { OnCallBody } from "#contract/notify.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { tonightText } from "../../text/tonight.ts";
import { onCallWords, probeWords, riskWords, todoWords } from "./tonight-words.ts";
import type { Level, Tonight } from "./tonight.ts";

/** When to come back to a zone, said by whoever knows. */
export interface ComeBackLine {
  readonly when: string;
  readonly what: string;
}

interface Props {
  readonly tonight: Tonight;
  readonly old: boolean;
  readonly comeBack: ReadonlyMap<string, ComeBackLine>;
  /** `undefined`: still asked for; null: no answer. */
  readonly onCall: OnCallBody | null | undefined;
  readonly openAlarms: number | null | undefined;
  readonly zoneHref: (zone: string) => string;
  readonly sensorsHref: string;
  readonly alarmsHref: string;
  readonly whoHref: string;
}

export function TonightView({
  tonight,
  old,
  comeBack,
  onCall,
  openAlarms,
  zoneHref,
  sensorsHref,
  alarmsHref,
  whoHref,
}: Props) {
  const voice = useVoice();
  const words = tonightText(voice.text);
  const nothing = tonight.todos.length === 0 && tonight.probes.length === 0 && !tonight.shutDoors;
  return (
    <>
      <p className="night-facts">
        {onCall !== undefined && <a href={whoHref}>{onCallWords(onCall, voice)}</a>}{" "}
        {openAlarms !== undefined && (
          <a href={alarmsHref}>{openAlarms === null ? words.alarmsUnknown : words.openAlarms(openAlarms)}</a>
        )}
      </p>
      <section className="night-part" aria-labelledby="night-before">
        <h3 id="night-before">{words.before}</h3>
        {nothing && <p>{words.beforeNothing}</p>}
        <ul className="night-todos">
          {tonight.todos.map((todo) => (
            <li key={`${todo.item.zone.id} ${todo.kind}`}>
              <a href={zoneHref(todo.item.zone.id)}>
                <b>{todo.item.zone.name}</b> <span>{todoWords(todo, voice)}</span>
              </a>
            </li>
          ))}
          {tonight.probes.map((watch) => (
            <li key={watch.id}>
              <a href={sensorsHref}>
                <span>{probeWords(watch, voice)}</span>
              </a>
            </li>
          ))}
          {tonight.shutDoors && (
            <li>
              <p>{words.doors}</p>
            </li>
          )}
        </ul>
      </section>
      <section className="night-part" aria-labelledby="night-zones">
        <h3 id="night-zones">{words.zones}</h3>
        <ol className="night-zones">
          {tonight.zones.map(({ item, risk }) => {
            const back = comeBack.get(item.zone.id);
            return (
              <li key={item.zone.id} className={`night-level-${risk.level}`}>
                <a href={zoneHref(item.zone.id)}>
                  <span className="night-zone">
                    <b>{item.zone.name}</b>
                    <CallWord call={item.call} old={old} />
                  </span>
                  <span className="night-level">
                    <LevelSign level={risk.level} /> {words.levels[risk.level]}
                  </span>
                  <span className="night-said">{riskWords(risk, voice)}</span>
                  {back !== undefined && (
                    <span className="night-back">
                      {words.comeBack}: <b>{back.when}</b> {back.what}
                    </span>
                  )}
                </a>
              </li>
            );
          })}
        </ol>
      </section>
    </>
  );
}

/** Three bars, filled from below by how much is at stake: to be read without colour. */
function LevelSign({ level }: { readonly level: Level }) {
  return (
    <svg width="26" height="20" viewBox="0 0 26 20" aria-hidden="true" focusable="false">
      {[1, 2, 3].map((bar) => (
        <rect
          key={bar}
          x={(bar - 1) * 9 + 1}
          y={19 - bar * 6}
          width="6"
          height={bar * 6 - 1}
          fill={level >= bar ? "currentColor" : "none"}
          stroke="currentColor"
          strokeWidth="1.5"
        />
      ))}
    </svg>
  );
}
