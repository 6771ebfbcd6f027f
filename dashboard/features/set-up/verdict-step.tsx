// The first call: what each zone says now, and every way to bring it on, without a page of documentation.
import type { BoardBody } from "#contract/board.ts";
import { setUpApi, type Taken } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { stripWords } from "../../text/sentence.ts";
import { setUpText } from "../../text/set-up.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { useState } from "react";
import { FileDrop } from "./file-drop.tsx";
import { Invented } from "./invented.tsx";

interface Props {
  readonly site: string;
  readonly board: BoardBody;
  readonly old: boolean;
  readonly hrefs: {
    readonly zone: (zone: string) => string;
    readonly sensors: string;
    readonly spot: string;
    readonly board: string;
    readonly plan: string;
  };
  readonly onChanged: () => void;
  readonly onInvented: (site: string) => void;
}

export function VerdictStep({ site, board, old, hrefs, onChanged, onInvented }: Props) {
  const voice = useVoice();
  const { text } = voice;
  const words = setUpText(text);
  const act = useAct();
  const [taken, setTaken] = useState<Taken | null>(null);
  const [first] = board.zones;
  const take = async (file: string) => {
    const done = await act.run(() => setUpApi.takeNightFile(site, file));
    setTaken(done?.value ?? null);
    if (done !== null) onChanged();
  };
  return (
    <div className="set-up-form">
      <h2>{words.verdictNow}</h2>
      <ul className="set-up-calls">
        {board.zones.map((item) => (
          <li key={item.zone.id}>
            <a className="set-up-call" href={hrefs.zone(item.zone.id)}>
              <b>{item.zone.name}</b>
              <CallWord call={item.call} old={old} />
              <span>{stripWords(item, voice).lead}</span>
            </a>
          </li>
        ))}
      </ul>
      <p>{words.verdictWait}</p>
      <ul className="set-up-ways">
        <li>
          <p>{words.ways.sensors}</p>
          <a className="button" href={hrefs.sensors}>
            {words.waysOpen.sensors}
          </a>
        </li>
        {first !== undefined && (
          <li>
            <p>{words.ways.ground}</p>
            <p>{words.ways.hand}</p>
            <a className="button" href={hrefs.zone(first.zone.id)}>
              {words.waysOpen.hand}
            </a>{" "}
            <a className="button" href={hrefs.spot}>
              {words.waysOpen.spot}
            </a>
          </li>
        )}
        <li>
          <p>{words.ways.file}</p>
          <FileDrop label={words.takeNight} busy={act.busy} onText={(file) => void take(file)} />
          <p className="field-help">{words.takeNightHelp}</p>
          {act.busy && <p role="status">{words.busy}</p>}
          {taken !== null && <p role="status">{words.nightTaken(taken.readings, taken.entries)}</p>}
          {act.failed !== null && (
            <p className="field-error" role="alert">
              {words.refused(act.failed)}
            </p>
          )}
        </li>
        <li>
          <Invented onMade={onInvented} />
        </li>
      </ul>
      <p className="set-up-ends">
        <a className="button button-main" href={hrefs.board}>
          {words.toBoard}
        </a>{" "}
        <a className="button" href={hrefs.plan}>
          {words.toPlan}
        </a>
      </p>
    </div>
  );
}
