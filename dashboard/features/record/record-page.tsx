// The record of a zone: its coats, the record of one, photos, the page for the client, and files to take away.
import { useState } from "react";
import type { ZoneCoatsBody } from "#contract/record.ts";
import type { Language } from "../../data/prefs.ts";
import { recordApi, type Tongue } from "../../data/record-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { recordText } from "../../text/record.ts";
import { useVoice } from "../../ui/voice.tsx";
import { CoatView } from "./coat-view.tsx";
import { HandOverView } from "./hand-over-view.tsx";
import { type PhotoEntry, PhotoForm } from "./photo-form.tsx";
import { stamp } from "./record-words.ts";
import "./record.css";

interface Props {
  readonly site: string;
  readonly zone: string;
  readonly zoneHref: string;
  readonly language: Language;
  readonly by: string | null;
  /** Changes with what is written: the record is asked for anew. */
  readonly written: string;
  /** null: who looks may not write. */
  readonly onPhoto: ((entry: PhotoEntry, picture: Blob) => Promise<void>) | null;
}

/** The whole is asked for again after so much time of the site. */
const EVERY_MS = 600_000;
const SHOWN_DAYS = 6;

export default function RecordPage({ site, zone, zoneHref, language, by, written, onPhoto }: Props) {
  const { text, units, nowMs } = useVoice();
  const words = recordText(text);
  const tongue: Tongue = { language, units };
  const place = `${site}/${zone}`;
  const turn = `${written} ${Math.floor(nowMs / EVERY_MS)}`;
  const list = useAsked(() => recordApi.coats(site, zone), place, turn);
  const hand = useAsked(() => recordApi.handOver(site, zone), place, turn);
  const [picked, setPicked] = useState<number | null>(null);
  const takes = (sheet: string | null) =>
    onPhoto === null ? null : <PhotoForm zone={zone} by={by} sheet={sheet} onPhoto={onPhoto} />;
  if (list.value === null)
    return (
      <div className="record">
        <a className="zone-back" href={zoneHref}>
          ‹ {words.back}
        </a>
        <h1>{words.title}</h1>
        <p>{list.failed ? text.app.failed : text.app.loading}</p>
        {/* A picture waits on the phone: it needs no server. */}
        {list.failed && takes(null)}
      </div>
    );
  const own = list.value.zones.find((one) => one.zone === zone);
  const coats = own?.coats ?? [];
  const shown = picked ?? coats.filter(({ record }) => record).at(-1)?.coat ?? null;
  return (
    <div className="record">
      <a className="zone-back" href={zoneHref}>
        ‹ {own?.name ?? words.back}
      </a>
      <h1>{words.title}</h1>
      <p className="field-help">{words.help}</p>
      {shown === null && <p>{words.none}</p>}
      <div className="record-coats" role="group" aria-label={words.title}>
        {coats.map((coat) => (
          <CoatButton key={coat.coat} coat={coat} on={coat.coat === shown} onPick={() => setPicked(coat.coat)} />
        ))}
      </div>
      {shown !== null && <Coat key={shown} site={site} zone={zone} coat={shown} turn={turn} tongue={tongue} />}
      {takes(coats.find(({ coat }) => coat === shown)?.sheet ?? null)}
      <section>
        <h2>{words.handOver}</h2>
        {hand.value === null ? (
          <p>{hand.failed ? text.app.failed : text.app.loading}</p>
        ) : (
          <HandOverView body={hand.value} tongue={tongue} />
        )}
      </section>
      <section>
        <h2>{words.days}</h2>
        <div className="record-files">
          {[...list.value.days]
            .reverse()
            .slice(0, SHOWN_DAYS)
            .map((day) => (
              <a
                key={day}
                className="button"
                href={recordApi.dayPdfHref(site, day, tongue)}
                target="_blank"
                rel="noopener"
              >
                {words.day(day)}
              </a>
            ))}
          <a className="button" href={recordApi.jobHref(site, tongue)} download="">
            {words.job}
          </a>
        </div>
      </section>
    </div>
  );
}

type CoatLine = ZoneCoatsBody["coats"][number];

function CoatButton({
  coat,
  on,
  onPick,
}: {
  readonly coat: CoatLine;
  readonly on: boolean;
  readonly onPick: () => void;
}) {
  const voice = useVoice();
  const words = recordText(voice.text);
  return (
    <button type="button" className="button record-pick" aria-pressed={on} disabled={!coat.record} onClick={onPick}>
      <span>
        <b>{words.coat(coat.coat + 1)}</b> {coat.name ?? coat.sheet ?? ""}
      </span>
      <small>
        {words.states[coat.state]}
        {coat.from !== null && ` · ${stamp(coat.from, voice)}`}
      </small>
    </button>
  );
}

interface CoatProps {
  readonly site: string;
  readonly zone: string;
  readonly coat: number;
  readonly turn: string;
  readonly tongue: Tongue;
}

function Coat({ site, zone, coat, turn, tongue }: CoatProps) {
  const { text } = useVoice();
  const words = recordText(text);
  const asked = useAsked(() => recordApi.coat(site, zone, coat), `${site}/${zone}/${coat}`, turn);
  return (
    <section aria-label={words.coat(coat + 1)}>
      <h2>{words.coat(coat + 1)}</h2>
      {asked.value === null ? (
        <p>{asked.failed ? text.app.failed : text.app.loading}</p>
      ) : (
        <CoatView body={asked.value} tongue={tongue} />
      )}
    </section>
  );
}
