// Open alarms over every page of a site, the loudest in words; each new one is read out once.
import { useEffect, useRef, useState } from "react";
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import { alarmsApi } from "../../data/alarms-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { alarmsText } from "../../text/alarms.ts";
import { useVoice } from "../../ui/voice.tsx";
import { LevelSign } from "./level-sign.tsx";
import { byWeight, saidOf } from "./said.ts";
import "./alarm-strip.css";

interface Props {
  readonly site: string;
  readonly board: BoardBody;
  readonly alarms: readonly AlarmBody[];
  /** Changes when the server is back: it may have said something meanwhile. */
  readonly link: string;
  /** The page of alarms shows them itself. */
  readonly shown: boolean;
  readonly href: string;
  readonly onStanding: (alarms: readonly AlarmBody[]) => void;
}

const ASK_EVERY_MS = 10 * 60_000;

export function AlarmStrip({ site, board, alarms, link, shown, href, onStanding }: Props) {
  const voice = useVoice();
  const words = alarmsText(voice.text);
  const slot = Math.floor(voice.nowMs / ASK_EVERY_MS);
  const asked = useAsked(() => alarmsApi.standing(site), site, `${link} ${slot}`);
  const take = useRef(onStanding);
  take.current = onStanding;
  useEffect(() => {
    if (asked.value !== null) take.current(asked.value);
  }, [asked.value]);

  // What is answered, over, or stands in the list only, interrupts nobody.
  const open = byWeight(alarms.filter(({ state, level }) => state === "open" && level !== "list"));
  const [first, ...others] = open;
  const readOut = useNew(open);
  return (
    <>
      <p className="hidden" role="alert">
        {readOut === null ? "" : `${words.newOne}: ${saidOf(readOut, board, voice).title}`}
      </p>
      {shown && first !== undefined && (
        <a className={`alarm-strip edge-${first.level}`} href={href}>
          <LevelSign level={first.level} />
          <span className="alarm-strip-said">
            <b>{saidOf(first, board, voice).title}.</b> <span>{saidOf(first, board, voice).body}</span>
          </span>
          <span className="alarm-strip-more">
            {others.length > 0 && <span>{words.more(others.length)}</span>}
            <u>{words.all}</u>
          </span>
        </a>
      )}
    </>
  );
}

/** The newest that was not there, or not so bad, when this page was last drawn. */
function useNew(open: readonly AlarmBody[]): AlarmBody | null {
  const known = useRef(new Set<string>());
  const [fresh, setFresh] = useState<AlarmBody | null>(null);
  const keys = open.map(({ id, changedAt }) => `${id} ${changedAt}`).join("\n");
  const latest = useRef(open);
  latest.current = open;
  useEffect(() => {
    const came = latest.current.filter(({ id, changedAt }) => !known.current.has(`${id} ${changedAt}`));
    for (const { id, changedAt } of latest.current) known.current.add(`${id} ${changedAt}`);
    setFresh((before) => came[0] ?? latest.current.find(({ id }) => id === before?.id) ?? null);
  }, [keys]);
  return fresh;
}
