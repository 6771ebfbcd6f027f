// The page of alarms: what is open and wants an answer, what was answered, and what is over.
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import type { AlarmAnswer } from "../../data/answers.ts";
import { alarmsText } from "../../text/alarms.ts";
import { useVoice } from "../../ui/voice.tsx";
import { AlarmCard, type AnswerActs } from "./alarm-card.tsx";
import { AlarmHistory } from "./history.tsx";
import { byWeight } from "./said.ts";
import "./alarm-strip.css";
import "./alarms.css";

interface Props {
  readonly site: string;
  readonly board: BoardBody;
  /** Those that are not over. */
  readonly alarms: readonly AlarmBody[];
  readonly answers: readonly AlarmAnswer[];
  readonly acts: AnswerActs | null;
  readonly zoneHref: (zone: string) => string;
  readonly whoHref: string;
}

export function AlarmsPage({ site, board, alarms, answers, acts, zoneHref, whoHref }: Props) {
  const words = alarmsText(useVoice().text);
  const open = byWeight(alarms.filter(({ state }) => state === "open"));
  const answered = byWeight(alarms.filter(({ state }) => state !== "open"));
  const card = (alarm: AlarmBody) => (
    <AlarmCard
      key={alarm.id}
      alarm={alarm}
      board={board}
      zoneHref={zoneHref}
      answer={answers.find((one) => one.site === site && one.alarm === alarm.id) ?? null}
      acts={acts}
    />
  );
  return (
    <section className="alarms">
      <div className="alarms-head">
        <h2>{words.title}</h2>
        <a className="button" href={whoHref}>
          {words.who}
        </a>
      </div>
      {open.length === 0 ? (
        <p className="alarms-none">
          <b>{words.none}</b> {words.noneLead}
        </p>
      ) : (
        <ul className="alarm-cards">{open.map(card)}</ul>
      )}
      {answered.length > 0 && (
        <>
          <h2>{words.answered}</h2>
          <ul className="alarm-cards">{answered.map(card)}</ul>
        </>
      )}
      <h2>{words.over}</h2>
      <AlarmHistory site={site} board={board} reason={alarms.map(({ id }) => id).join(" ")} zoneHref={zoneHref} />
    </section>
  );
}
