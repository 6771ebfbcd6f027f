// When to come back to each zone: one line a zone, in walking order; on paper it is the whole page.
import { useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import { Glyph, type Sign } from "../../ui/glyph.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { visitWords } from "./visit-words.ts";
import { type Errand, visitsOf } from "./visits.ts";
import "./come-back.css";

/** More lines than this push the board out of reach. */
const MOST = 24;

interface Props {
  readonly zones: readonly BoardZoneBody[];
  /** The server is out of reach: what is said is of the time it last spoke. */
  readonly old: boolean;
  readonly saidMs: number;
  readonly hrefOf: (zone: string) => string;
}

/** The sign of what is done there. */
const SIGNS: Readonly<Record<Errand, Sign>> = {
  pour: "pour",
  pouring: "pour",
  back: "pour",
  steps: "abrade",
  lost: "abrade",
  abrade: "abrade",
  hands: "wait",
  nothing: "wait",
  walk: "finished",
  done: "finished",
};

export function ComeBack({ zones, old, saidMs, hrefOf }: Props) {
  const voice = useVoice();
  const words = voice.text.comeBack;
  const [whole, setWhole] = useState(false);
  if (zones.length === 0) return null;
  const visits = visitsOf(zones, voice.nowMs);
  const more = whole ? 0 : Math.max(0, visits.length - MOST);
  return (
    <section className={old ? "come-back come-back-old" : "come-back"} aria-labelledby="come-back-title">
      <h2 id="come-back-title">{words.title}</h2>
      <p className="come-back-help">{old ? words.asOf(voice.clock.when(saidMs, voice.nowMs)) : words.help}</p>
      <ol>
        {visits.slice(0, visits.length - more).map((visit) => {
          const { when, away, what, chance, mark } = visitWords(visit, voice);
          const now = visit.atMs === null && when === words.now;
          return (
            <li key={visit.item.zone.id} className={`visit visit-${visit.errand}${now ? " visit-now" : ""}`}>
              <a href={hrefOf(visit.item.zone.id)}>
                <span className="visit-when">
                  <b>{when}</b> <small>{away}</small>
                </span>
                <span className="visit-zone">{visit.item.zone.name}</span>
                <span className="visit-what">
                  <Glyph sign={SIGNS[visit.errand]} sizePx={20} /> {what}
                  {chance !== "" && <span className="visit-chance"> {chance}</span>}
                  {mark !== "" && <em>{mark}</em>}
                </span>
              </a>
            </li>
          );
        })}
      </ol>
      {more > 0 && (
        <button type="button" className="button" onClick={() => setWhole(true)}>
          {words.more(more)}
        </button>
      )}
      <button
        type="button"
        className="come-back-print"
        onClick={() => {
          setWhole(true);
          setTimeout(() => globalThis.print());
        }}
      >
        {words.print}
      </button>
    </section>
  );
}
