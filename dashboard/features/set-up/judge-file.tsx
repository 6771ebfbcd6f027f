// A night file that somebody sent: what its calls come to. Nothing of it is kept.
import { useState } from "react";
import type { JudgedNightBody } from "#contract/judged-night.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { clockOf } from "../../text/clock.ts";
import { stripWords, type Voice } from "../../text/sentence.ts";
import { setUpText } from "../../text/set-up.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { FileDrop } from "./file-drop.tsx";

function Judged({ judged }: { readonly judged: JudgedNightBody }) {
  const outer = useVoice();
  const words = setUpText(outer.text);
  const clock = clockOf(judged.timezone, outer.text, outer.clock.hours);
  return (
    <div>
      <p className="field-help">{words.judgedSome(judged.calls.length, judged.asked)}</p>
      <ul className="set-up-calls">
        {[...judged.calls].reverse().map((call, index) => {
          const atMs = Date.parse(call.at);
          const voice: Voice = { ...outer, clock, nowMs: atMs };
          const said = stripWords({ call, marginLimitK: null, past: [] }, voice);
          return (
            <li key={index}>
              <p className="field-help">
                {judged.names[call.zone] ?? call.zone} · {clock.day(atMs)} {clock.time(atMs)}
              </p>
              <CallWord call={call} old={false} />
              <p>
                <b>{said.lead}</b> {said.rest} {said.next}
              </p>
            </li>
          );
        })}
      </ul>
    </div>
  );
}

export function JudgeFile() {
  const { text } = useVoice();
  const words = setUpText(text);
  const act = useAct();
  const [judged, setJudged] = useState<JudgedNightBody | null>(null);
  const judge = async (file: string) => {
    const done = await act.run(() => setUpApi.judgeNight(file));
    setJudged(done?.value ?? null);
  };
  return (
    <div className="set-up-part">
      <FileDrop label={words.judgeNight} busy={act.busy} onText={(file) => void judge(file)} />
      <p className="field-help">{words.judgeHelp}</p>
      {act.busy && <p role="status">{words.busy}</p>}
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refused(act.failed)}
        </p>
      )}
      {judged !== null && <Judged judged={judged} />}
    </div>
  );
}
