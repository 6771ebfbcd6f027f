// Film against window on one time axis: a lost window is seen hours before it is lost.
import type { BoardZoneBody } from "#contract/board.ts";
import { aheadText } from "../../text/ahead.ts";
import { RaceSign } from "../../ui/race-sign.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { raceOf } from "./race.ts";
import { RaceDrawing } from "./race-drawing.tsx";
import { raceWords } from "./race-words.ts";
import "./race.css";

interface Props {
  readonly item: BoardZoneBody;
  /** Leads to the question whether heat saves the window; null for those who may not plan heat. */
  readonly onHeat: (() => void) | null;
}

export function RaceView({ item, onHeat }: Props) {
  const voice = useVoice();
  const words = aheadText(voice.text).race;
  const race = raceOf(item, voice.nowMs);
  if (race === null) return null;
  const losing = race.chanceLost >= 0.5;
  const said = raceWords(race, voice);
  return (
    <section className="race" aria-labelledby="race-title">
      <h2 id="race-title">{words.title}</h2>
      <p className="why-note">{words.help}</p>
      <p className={losing ? "race-said race-losing" : "race-said"}>
        {losing && <RaceSign />} {said}
      </p>
      <RaceDrawing race={race} said={said} />
      <p className="why-note">{words.soft}</p>
      {race.chanceLost >= 0.1 && (
        <>
          {!race.hard && <p className="race-rule">{words.neverSoft}</p>}
          {onHeat !== null && (
            <button type="button" className="button" onClick={onHeat}>
              {words.toHeat}
            </button>
          )}
        </>
      )}
    </section>
  );
}
