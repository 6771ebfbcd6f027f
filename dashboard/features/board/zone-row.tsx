// One zone on the board: its call as a big word, why, what comes next, and its night strip.
import { memo } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { RaceSign } from "../../ui/race-sign.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { losingWords, nearWords, stripWords } from "../../text/sentence.ts";
import { showDuration } from "../../units/show.ts";
import { Strip } from "./strip.tsx";

interface Props {
  readonly item: BoardZoneBody;
  readonly href: string;
  readonly old: boolean;
  readonly saidMs: number;
  /** Of a list in parts: what it is there, and its place in the whole. */
  readonly role?: "listitem";
  readonly "aria-posinset"?: number;
  readonly "aria-setsize"?: number;
}

export const ZoneRow = memo(function ZoneRow({ item, href, old, saidMs, ...place }: Props) {
  const voice = useVoice();
  const { text, nowMs } = voice;
  const words = stripWords(item, voice);
  const [caution] = nearWords(item, voice);
  const losing = losingWords(item, voice);
  const { zone, call } = item;
  const age =
    item.lastHeard === null
      ? text.board.neverHeard
      : text.board.heard(showDuration(nowMs - Date.parse(item.lastHeard)));
  const coat = call.nextCoat === null ? zone.system.length : call.nextCoat + 1;
  return (
    <li className={`row${old ? " row-old" : ""}`} {...place}>
      <div className="row-words">
        <h2 className="row-name">
          <a href={href} aria-label={text.board.details(zone.name)}>
            {zone.name}
            <span className="row-go" aria-hidden="true" />
          </a>
        </h2>
        <p className="row-facts">
          {age} · {text.board.coat(Math.min(coat, zone.system.length), zone.system.length)}
        </p>
        <CallWord call={call} old={old} />
        <p className="row-why">
          <b>{words.lead}</b> {words.rest}
        </p>
        {words.next !== "" && <p className="row-next">{words.next}</p>}
        {losing !== "" && (
          <p className="row-losing">
            <RaceSign /> {losing}
          </p>
        )}
        {caution !== undefined && <p className="row-near">{caution}</p>}
      </div>
      <Strip item={item} saidMs={saidMs} />
    </li>
  );
});
