// The card at the mixing place: which batch, how much of each part, and the clock of the mix that is going on.
import { useEffect, useRef, useState } from "react";
import type { EntryBody } from "#contract/journal.ts";
import type { CoatTakeoffBody } from "#contract/takeoff.ts";
import { materialText } from "../../text/material.ts";
import { showDuration } from "../../units/show.ts";
import { showMass, showVolume } from "../../units/show-material.ts";
import { useVoice } from "../../ui/voice.tsx";
import { callOut, wakeSound } from "./attention.ts";
import { briefOf } from "./cautions.tsx";
import { BatchNumbers, type Numbers } from "./batch-numbers.tsx";
import { MixClock } from "./mix-clock-view.tsx";
import { mixMoment, type MixRun } from "./mix-clock.ts";
import { nextBatch } from "./plan-times.ts";

/** What this device keeps of the mixing of one coat. */
export interface MixKept {
  readonly run: MixRun | null;
  /** The highest batch that was written here. */
  readonly lastBatch: number;
  readonly numbers: Numbers;
  readonly sound: boolean;
}

interface Props {
  readonly zone: string;
  readonly coat: CoatTakeoffBody;
  readonly kept: MixKept;
  readonly onKeep: (kept: MixKept) => void;
  readonly by: string | null;
  /** null: whoever looks may not write. */
  readonly onWrite: ((entry: EntryBody) => void) | null;
  readonly onPhoto: (picture: Blob, note: string) => Promise<void>;
}

const TICK_MS = 500;

/** Time of this device, also right after it was asleep. */
function useWallClock(runs: boolean): number {
  const [nowMs, setNowMs] = useState(() => Date.now());
  useEffect(() => {
    if (!runs) return;
    const tick = () => setNowMs(Date.now());
    tick();
    const timer = setInterval(tick, TICK_MS);
    document.addEventListener("visibilitychange", tick);
    return () => {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", tick);
    };
  }, [runs]);
  return nowMs;
}

export function MixingCard({ zone, coat, kept, onKeep, by, onWrite, onPhoto }: Props) {
  const { text, units, nowMs } = useVoice();
  const words = materialText(text);
  const { run } = kept;
  const wallMs = useWallClock(run !== null);
  const rows = coat.batches?.rows ?? [];
  const next = nextBatch(coat, kept.lastBatch);
  const [picked, setPicked] = useState<number | null>(null);
  const batch = run?.batch ?? picked ?? next;
  const row = rows[Math.min(batch, rows.length) - 1];
  const moment = run === null ? null : mixMoment(run, wallMs);
  const stage = moment?.stage ?? null;
  const before = useRef(stage);
  useEffect(() => {
    if (kept.sound && before.current !== null && stage !== null && before.current !== stage) callOut();
    before.current = stage;
  }, [stage, kept.sound]);

  if (coat.batches === null || row === undefined) return null;
  const parts = row.parts?.map(({ name }) => name) ?? [""];
  const lifeMin = coat.batches.lifeMin;

  const start = () => {
    if (kept.sound) wakeSound();
    const { mixMin, restMin } = coat;
    const at = new Date(nowMs).toISOString();
    const begun: MixRun = {
      ...{ coat: coat.coat, batch, startedMs: Date.now(), at, volumeL: row.volumeL },
      ...{ mixMin, restMin, lifeMin },
    };
    onKeep({ ...kept, run: begun });
  };
  const finish = () => {
    if (run === null) return;
    const numbers = parts.flatMap((part) => {
      const number = (kept.numbers[part] ?? "").trim();
      return number === "" ? [] : [part === "" ? { number } : { part, number }];
    });
    onWrite?.({
      ...{ did: "mixed" as const, at: run.at, zone, coat: run.coat, batch: run.batch },
      volumeL: Math.round(run.volumeL * 1000) / 1000,
      ...(numbers.length === 0 ? {} : { batches: numbers }),
      ...(by === null ? {} : { by }),
    });
    setPicked(null);
    onKeep({ ...kept, run: null, lastBatch: Math.max(run.batch, kept.lastBatch) });
  };

  return (
    <section className="mix" aria-labelledby="mix-title">
      <div className="mix-head">
        <h2 id="mix-title">
          {batch <= rows.length ? words.batchOf(batch, rows.length) : words.batchMore(batch)}
          <span>
            {words.coat(coat.coat + 1)}: {coat.name}
          </span>
        </h2>
        {run === null && (
          <div className="mix-steps">
            <button
              type="button"
              className="button"
              aria-label={words.earlier}
              disabled={batch <= 1}
              onClick={() => setPicked(batch - 1)}
            >
              −
            </button>
            <button type="button" className="button" aria-label={words.later} onClick={() => setPicked(batch + 1)}>
              +
            </button>
          </div>
        )}
      </div>
      <p className="mix-whole">
        <b>{showVolume(row.volumeL, units)}</b>
        {row.kits !== null && ` · ${words.wholeKits(row.kits)}`}
      </p>
      {row.parts === null ? (
        <p>{words.noParts}</p>
      ) : (
        <ul className="mix-parts">
          {row.parts.map(({ name, volumeL, massKg }) => (
            <li key={name}>
              <span>{name}</span>
              {volumeL !== null && <b>{showVolume(volumeL, units)}</b>}
              {massKg !== null &&
                (volumeL === null ? <b>{showMass(massKg, units)}</b> : <i>{showMass(massKg, units)}</i>)}
            </li>
          ))}
        </ul>
      )}
      {run === null || moment === null ? (
        <>
          <p className="mix-times">
            {words.stir(showDuration(coat.mixMin * 60_000))}
            {coat.restMin > 0 && `, ${words.rest(showDuration(coat.restMin * 60_000))}`}.{" "}
            {lifeMin > 0 ? `${words.outWithin(showDuration(lifeMin * 60_000))}.` : words.tooHot}
          </p>
          <ul className="mix-care">
            {briefOf(coat.hazards).map((one) => (
              <li key={one}>{words.cautions.brief[one]}</li>
            ))}
          </ul>
          {onWrite === null ? (
            <p className="why-note">{words.notYours}</p>
          ) : (
            lifeMin > 0 && (
              <button type="button" className="button button-main mix-go" onClick={start}>
                {words.start}
              </button>
            )
          )}
        </>
      ) : (
        <>
          <MixClock run={run} moment={moment} />
          <button type="button" className="button button-main mix-go" onClick={finish}>
            {words.done}
          </button>
          <button type="button" className="button" onClick={() => onKeep({ ...kept, run: null })}>
            {words.discard}
          </button>
        </>
      )}
      <BatchNumbers
        parts={parts}
        numbers={kept.numbers}
        onType={(part, number) => onKeep({ ...kept, numbers: { ...kept.numbers, [part]: number } })}
        onPhoto={onPhoto}
      />
      <button
        type="button"
        className="button mix-sound"
        aria-pressed={kept.sound}
        onClick={() => {
          if (!kept.sound) wakeSound();
          onKeep({ ...kept, sound: !kept.sound });
        }}
      >
        {words.sound}: {kept.sound ? words.soundOn : words.soundOff}
      </button>
    </section>
  );
}
