// An alarm that is not over: what it says, the buttons that answer it, and behind a tap why it rang and whom it told.
import { useState } from "react";
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import type { AlarmAnswer } from "../../data/answers.ts";
import { alarmsText } from "../../text/alarms.ts";
import { useVoice } from "../../ui/voice.tsx";
import { FactsList } from "./facts-list.tsx";
import { LevelSign } from "./level-sign.tsx";
import { saidOf } from "./said.ts";
import { ToldList } from "./told-list.tsx";

export interface AnswerActs {
  /** Null = acknowledge. */
  give(alarm: AlarmBody, untilAt: string | null): void;
  putAway(alarm: AlarmBody): void;
}

interface Props {
  readonly alarm: AlarmBody;
  readonly board: BoardBody;
  readonly zoneHref: (zone: string) => string;
  /** On its way, or refused; null without. */
  readonly answer: AlarmAnswer | null;
  /** Null: not for this person. */
  readonly acts: AnswerActs | null;
}

const HOUR_MS = 3_600_000;

export function AlarmCard({ alarm, board, zoneHref, answer, acts }: Props) {
  const voice = useVoice();
  const { clock, nowMs } = voice;
  const words = alarmsText(voice.text);
  const said = saidOf(alarm, board, voice);
  const when = (iso: string) => clock.when(Date.parse(iso), nowMs);
  const pending = answer !== null && answer.refused === null;
  const later = (hours: number) => () => acts?.give(alarm, new Date(nowMs + hours * HOUR_MS).toISOString());
  return (
    <li className={`alarm-card edge-${alarm.level}`}>
      <p className="alarm-card-top">
        <LevelSign level={alarm.level} />
        <span>{when(alarm.changedAt)}</span>
      </p>
      <h3>{said.title}</h3>
      <p>{said.body}</p>
      {alarm.state === "acknowledged" && alarm.acknowledgedAt !== null && (
        <p className="alarm-answer">{words.seenBy(alarm.acknowledgedBy, when(alarm.acknowledgedAt))}</p>
      )}
      {alarm.state === "snoozed" && alarm.snoozedUntil !== null && (
        <p className="alarm-answer">{words.putOff(when(alarm.snoozedUntil))}</p>
      )}
      <div role="status">
        {pending && (
          <p className={answer.tried ? "alarm-trouble" : "alarm-answer"}>
            {answer.tried ? words.notDelivered : words.sending}
          </p>
        )}
        {answer !== null && answer.refused !== null && (
          <p className="alarm-trouble">
            {words.refused(answer.refused)}{" "}
            <button type="button" className="button" onClick={() => acts?.putAway(alarm)}>
              {words.putAway}
            </button>
          </p>
        )}
      </div>
      {acts === null ? (
        <p className="alarm-answer">{words.notYours}</p>
      ) : (
        !pending && (
          <div className="alarm-acts">
            {alarm.state !== "acknowledged" && (
              <button type="button" className="button button-main" onClick={() => acts.give(alarm, null)}>
                {words.acknowledge}
              </button>
            )}
            <button type="button" className="button" onClick={later(1)}>
              {words.snooze1}
            </button>
            <button type="button" className="button" onClick={later(3)}>
              {words.snooze3}
            </button>
          </div>
        )
      )}
      <AlarmMore alarm={alarm} board={board} zoneHref={zoneHref} />
    </li>
  );
}

/** Facts, course and deliveries; asked for when it is opened. */
export function AlarmMore({ alarm, board, zoneHref }: Pick<Props, "alarm" | "board" | "zoneHref">) {
  const { text, clock, nowMs } = useVoice();
  const words = alarmsText(text);
  const [open, setOpen] = useState(false);
  return (
    <details className="alarm-more" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.why}</summary>
      {open && (
        <>
          <FactsList alarm={alarm} board={board} zoneHref={zoneHref} />
          <h4>{words.course}</h4>
          <ol className="alarm-course">
            {alarm.history.map((step) => (
              <li key={`${step.at} ${step.step}`}>
                <time dateTime={step.at}>{clock.when(Date.parse(step.at), nowMs)}</time> {words.steps[step.step]}
                {step.by !== null && ` · ${step.by}`}
              </li>
            ))}
          </ol>
          <h4>{words.told}</h4>
          <ToldList alarm={alarm} />
        </>
      )}
    </details>
  );
}
