// The clock of a coat: when each batch is mixed, the last bucket, and whether all of it fits the times of the call.
import { useState } from "react";
import type { CallBody } from "#contract/call.ts";
import type { CoatTakeoffBody } from "#contract/takeoff.ts";
import { materialText } from "../../text/material.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { showArea } from "../../units/show.ts";
import { showVolume } from "../../units/show-material.ts";
import { plannedPour, type Start, startsOf, termsOf, timesOf } from "./plan-times.ts";

interface Props {
  readonly coat: CoatTakeoffBody;
  readonly areaM2: number;
  readonly call: CallBody;
}

const MOST_ROWS = 30;

export function ClockPlan({ coat, areaM2, call }: Props) {
  const { text, units, clock, nowMs } = useVoice();
  const words = materialText(text);
  const terms = termsOf(coat, areaM2);
  const [picked, setPicked] = useState<Start | null>(null);
  if (terms === null) return null;
  const starts = startsOf(terms, call, nowMs);
  const names = Object.keys(starts) as Start[];
  const start = picked !== null && starts[picked] !== undefined ? picked : (names[0] as Start);
  const plan = plannedPour(terms, call, starts[start] ?? nowMs);
  const when = (atMs: number) => clock.when(atMs, nowMs);
  const times = timesOf(call);
  const limits = { start: times.latestStartAtMs, "last-mix": times.lastMixAtMs, finish: times.finishByMs };
  const timed = Object.values(limits).some((atMs) => atMs !== null);
  return (
    <section className="plan-clock" aria-labelledby="clock-title">
      <h2 id="clock-title">{words.clock}</h2>
      {names.length > 1 && (
        <Choice
          label={words.clock}
          options={Object.fromEntries(names.map((name) => [name, `${words.starts[name]} ${when(starts[name] ?? 0)}`]))}
          value={start}
          onPick={(value) => setPicked(value as Start)}
        />
      )}
      {call.call !== "pour" && <p className="plan-if">{start === "next" ? words.ifOpens : words.notNow}</p>}
      <dl className="plan-ends">
        <div>
          <dt>{words.lastBucket}</dt>
          <dd>{when(plan.lastMixAtMs)}</dd>
        </div>
        <div>
          <dt>{words.floorDone}</dt>
          <dd>{when(plan.finishMs)}</dd>
        </div>
      </dl>
      {plan.late.map((late) => (
        <p key={late} className="field-error">
          {words.late[late](when(limits[late] ?? nowMs))}
        </p>
      ))}
      {call.call === "pour" && timed && plan.late.length === 0 && <p className="plan-fits">{words.fits}</p>}
      <table className="plan-rows">
        <thead>
          <tr>
            <th scope="col">{words.number}</th>
            <th scope="col">{words.mixAt}</th>
            <th scope="col">{words.floorAt}</th>
            <th scope="col">{words.laidBy}</th>
            <th scope="col">{words.volume}</th>
            <th scope="col">{words.area}</th>
          </tr>
        </thead>
        <tbody>
          {plan.rows.slice(0, MOST_ROWS).map((row) => (
            <tr key={row.batch}>
              <th scope="row">{row.batch}</th>
              <td>{when(row.mixFromMs)}</td>
              <td>{when(row.pourFromMs)}</td>
              <td>
                {when(row.laidByMs)}
                {row.diesAtMs < row.laidByMs && coat.batches?.pourOutAtOnce !== true && (
                  <span className="plan-tight">{words.tight}</span>
                )}
              </td>
              <td>{showVolume(row.volumeL, units)}</td>
              <td>{showArea(row.areaM2, units)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {plan.rows.length > MOST_ROWS && <p>{words.moreRows(plan.rows.length - MOST_ROWS)}</p>}
    </section>
  );
}
