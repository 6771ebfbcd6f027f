// The head of the zone page: the call, why, what comes next, and every limit that is near.
import type { BoardZoneBody } from "#contract/board.ts";
import { losingWords, nearWords, stripWords } from "../../text/sentence.ts";
import { showDuration } from "../../units/show.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { RaceSign } from "../../ui/race-sign.tsx";
import { useVoice } from "../../ui/voice.tsx";
import "./ways.css";
import "./zone.css";

export function ZoneHead({ item, old }: { readonly item: BoardZoneBody; readonly old: boolean }) {
  const voice = useVoice();
  const { text, nowMs } = voice;
  const words = stripWords(item, voice);
  const losing = losingWords(item, voice);
  const age =
    item.lastHeard === null
      ? text.board.neverHeard
      : text.board.heard(showDuration(nowMs - Date.parse(item.lastHeard)));
  return (
    <section className="zone-head" aria-label={item.zone.name}>
      <h1>{item.zone.name}</h1>
      <p className="row-facts">{age}</p>
      <CallWord call={item.call} old={old} />
      <p className="zone-why">
        <b>{words.lead}</b> {words.rest}
      </p>
      {words.next !== "" && <p className="zone-why">{words.next}</p>}
      {losing !== "" && (
        <p className="row-losing">
          <RaceSign /> {losing}
        </p>
      )}
      {nearWords(item, voice).map((near) => (
        <p key={near} className="row-near">
          {near}
        </p>
      ))}
    </section>
  );
}
