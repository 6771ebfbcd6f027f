// The clock of the mix that is going on: what to do now, and how long.
import { materialText } from "../../text/material.ts";
import { useVoice } from "../../ui/voice.tsx";
import { countdown, type MixMoment, type MixRun } from "./mix-clock.ts";

interface Props {
  readonly run: MixRun;
  readonly moment: MixMoment;
}

export function MixClock({ run, moment }: Props) {
  const { text, clock } = useVoice();
  const words = materialText(text);
  const { stage, leftMs, lifeLeftMs } = moment;
  const diesMs = Date.parse(run.at) + run.lifeMin * 60_000;
  return (
    <div className={`mix-clock mix-${stage}`}>
      {/* Only the stage is read out: a voice that counts seconds helps nobody. */}
      <p className="mix-stage" role="status">
        {words.stages[stage]} <span>{words.stageHelp[stage]}</span>
      </p>
      <p className="mix-left" role="timer" aria-live="off">
        {countdown(leftMs)}
      </p>
      {(stage === "mixing" || stage === "resting") && (
        <p className="mix-until">{words.pailUntil(clock.time(diesMs), countdown(lifeLeftMs))}</p>
      )}
    </div>
  );
}
