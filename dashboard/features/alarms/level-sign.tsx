// The level of an alarm as sign and word: an open eye, a sheet that is handed over, lines on a page. Its edge has a pattern too.
import type { ReactElement } from "react";
import type { AlarmLevel } from "#core/alarm/kinds.ts";
import { alarmsText } from "../../text/alarms.ts";
import { useVoice } from "../../ui/voice.tsx";

const DRAWN: Readonly<Record<AlarmLevel, ReactElement>> = {
  wake: (
    <>
      <path d="M1 18C8 7 24 7 31 18 24 28 8 28 1 18z" fill="none" stroke="currentColor" strokeWidth="3" />
      <circle cx="16" cy="17.500" r="5.600" fill="currentColor" />
      <path d="M16 1v5M5 4l3 5M27 4l-3 5" stroke="currentColor" strokeWidth="3" strokeLinecap="round" />
    </>
  ),
  tell: (
    <>
      <path d="M3 7h18l8 9-8 9H3z" fill="none" stroke="currentColor" strokeWidth="3" strokeLinejoin="round" />
      <path d="M8 13h11M8 19h11" stroke="currentColor" strokeWidth="3" strokeLinecap="round" />
    </>
  ),
  list: (
    <path
      d="M4 7h3M12 7h16M4 16h3M12 16h16M4 25h3M12 25h16"
      stroke="currentColor"
      strokeWidth="3"
      strokeLinecap="round"
    />
  ),
};

export function LevelSign({ level, sizePx = 28 }: { readonly level: AlarmLevel; readonly sizePx?: number }) {
  const words = alarmsText(useVoice().text);
  return (
    <span className={`level level-${level}`}>
      <svg viewBox="0 0 32 32" width={sizePx} height={sizePx} aria-hidden="true" focusable="false">
        {DRAWN[level]}
      </svg>
      <b>{words.levels[level]}</b>
    </span>
  );
}
