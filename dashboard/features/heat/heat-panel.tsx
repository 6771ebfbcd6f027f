// What heat would do to a zone: a heater is set, the answer follows at once; a plan can be logged.
import { useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import type { HeatPlanBody, HeatQuestionBody } from "#contract/heat-plan.ts";
import type { EntryBody } from "#contract/journal.ts";
import { heatText } from "../../text/heat.ts";
import { journalText } from "../../text/journal.ts";
import { useVoice } from "../../ui/voice.tsx";
import { Choices } from "./choices.tsx";
import { HeatChart } from "./heat-chart.tsx";
import { draftFrom, entryOf, type HeatDraft, questionOf } from "./heat-form.ts";
import { answerWords, buildingWords } from "./heat-words.ts";
import { HeaterForm } from "./heater-form.tsx";
import { useHeatPlan } from "./use-heat-plan.ts";
import "./heat.css";

interface Props {
  readonly item: BoardZoneBody;
  /** The heater that was set last on this device. */
  readonly kept: unknown;
  readonly by: string;
  readonly onKeep: (draft: HeatDraft) => void;
  readonly onAsk: (question: HeatQuestionBody) => Promise<HeatPlanBody>;
  readonly onWrite: (entry: EntryBody) => void;
}

/** The floor moves on: an answer is asked anew when the site's clock has gone on by this much. */
const RENEW_MS = 600_000;

export default function HeatPanel({ item, kept, by, onKeep, onAsk, onWrite }: Props) {
  const voice = useVoice();
  const { text, nowMs, clock } = voice;
  const words = heatText(text);
  const [draft, setDraft] = useState(() => draftFrom(kept));
  const [pickedPlan, setPicked] = useState<string | null>(null);
  const [logged, setLogged] = useState(false);
  const { plan, asking, away, refused } = useHeatPlan(
    () => onAsk(questionOf(draft, nowMs)),
    `${JSON.stringify(draft)} ${Math.floor(nowMs / RENEW_MS)}`,
  );
  const change = (part: Partial<HeatDraft>) => {
    const next = { ...draft, ...part };
    setDraft(next);
    setLogged(false);
    onKeep(next);
  };
  const state = () => {
    if (refused !== null) return words.refused(refused);
    if (away) return plan === null ? words.failedFirst : words.failed;
    if (asking || plan === null) return words.asking;
    return words.fresh(clock.when(Date.parse(plan.at), nowMs));
  };
  const choices = plan?.choices ?? [];
  const found = choices.findIndex((choice) => choice.plan === pickedPlan);
  const first = plan?.saveWindow.choice ?? (choices.length > 1 ? 1 : 0);
  const picked = found >= 0 ? found : first;
  const chosen = choices[picked];
  const cold = choices.find((choice) => choice.plan === "no-heat") ?? chosen;
  const entry = chosen === undefined ? null : entryOf(chosen, draft, nowMs, by);
  return (
    <div className="heat">
      <div className="heat-answer">
        {plan !== null && (
          <>
            <h3>{words.question}</h3>
            <p className={`heat-said heat-${plan.saveWindow.answer}${asking ? " heat-stale" : ""}`} aria-live="polite">
              {answerWords(plan, voice)}
            </p>
          </>
        )}
        <p className="heat-state" role="status">
          {state()}
        </p>
      </div>
      <HeaterForm draft={draft} onChange={change} />
      {plan !== null && chosen !== undefined && cold !== undefined && (
        <div className={asking ? "heat-result heat-stale" : "heat-result"} aria-busy={asking}>
          <p className="why-note">{buildingWords(plan, voice)}</p>
          <Choices
            choices={choices}
            best={plan.saveWindow.choice}
            picked={picked}
            onPick={(index) => {
              setPicked(choices[index]?.plan ?? null);
              setLogged(false);
            }}
          />
          <HeatChart chosen={chosen} cold={cold} limitK={item.marginLimitK ?? 0} />
          <Cautions codes={plan.cautions} />
          <div className="heat-log">
            <button
              type="button"
              className="button button-main"
              disabled={entry === null || logged || asking}
              onClick={() => {
                if (entry === null) return;
                onWrite(entry);
                setLogged(true);
              }}
            >
              {words.log}
            </button>
            <p role="status">{logged ? words.logged : entry === null ? words.logNone : words.logHelp}</p>
          </div>
        </div>
      )}
    </div>
  );
}

function Cautions({ codes }: { readonly codes: HeatPlanBody["cautions"] }) {
  const { text } = useVoice();
  const words = heatText(text);
  if (codes.length === 0) return null;
  return (
    <div className="caution">
      <p>
        <b>{words.cautionTitle}</b>
      </p>
      <ul>
        {codes.map((code) => (
          <li key={code}>{words.cautions[code]}</li>
        ))}
      </ul>
      <p>{journalText(text).defer}</p>
    </div>
  );
}
