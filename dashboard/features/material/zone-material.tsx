// Material of one zone: the mixing card and the clock of the coat to come, crew and resin, and what every coat takes.
import { useState } from "react";
import type { CallBody } from "#contract/call.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { ZoneTakeoffBody } from "#contract/takeoff.ts";
import type { Crew } from "../../data/material-api.ts";
import { materialText } from "../../text/material.ts";
import { showArea } from "../../units/show.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { MaterialCautions } from "./cautions.tsx";
import { ClockPlan } from "./clock-plan.tsx";
import { CoatFacts } from "./coat-facts.tsx";
import { CrewForm, ResinForm } from "./crew-form.tsx";
import "./material.css";
import { type MixKept, MixingCard } from "./mixing-card.tsx";
import "./mixing.css";

interface Props {
  readonly zone: ZoneTakeoffBody;
  readonly call: CallBody;
  /** The call is that of another time. */
  readonly old: boolean;
  readonly backHref: string;
  /** null: whoever looks may not plan. */
  readonly sheetHrefOf: (sheet: string) => string | null;
  readonly kept: MixKept;
  readonly onKeep: (kept: MixKept) => void;
  readonly by: string | null;
  readonly onWrite: ((entry: EntryBody) => void) | null;
  /** null: whoever looks may not plan. */
  readonly onCrew: ((crew: Crew) => Promise<void>) | null;
  readonly onPhoto: (picture: Blob, note: string) => Promise<void>;
}

export function ZoneMaterial(props: Props) {
  const { zone, call, old, backHref, sheetHrefOf, kept, onKeep, by, onWrite, onCrew, onPhoto } = props;
  const { text, units } = useVoice();
  const words = materialText(text);
  const [opened, setOpened] = useState(kept.run !== null);
  const coat =
    zone.coats.find(({ state }) => state === "pouring") ?? zone.coats.find(({ state }) => state === "next") ?? null;
  const mixes = coat !== null && coat.batches !== null;
  return (
    <div className="material material-of-zone">
      <header className="material-head">
        <div>
          <h2>
            {zone.name} <span>{showArea(zone.areaM2, units)}</span>
          </h2>
          <CallWord call={call} old={old} />
        </div>
        <a className="button" href={backHref}>
          {words.back}
        </a>
      </header>
      <div className="material-main">
        {mixes && (
          <>
            <button
              type="button"
              className={opened ? "button mix-open" : "button button-main mix-go mix-open"}
              aria-expanded={opened}
              onClick={() => setOpened(!opened)}
            >
              {opened ? words.cardClose : words.cardOpen}
            </button>
            {opened && (
              <MixingCard
                zone={zone.zone}
                coat={coat}
                kept={kept}
                onKeep={onKeep}
                by={by}
                onWrite={onWrite}
                onPhoto={onPhoto}
              />
            )}
            <ClockPlan key={coat.coat} coat={coat} areaM2={zone.areaM2} call={call} />
          </>
        )}
        <section className="material-all" aria-labelledby="coats-title">
          <h2 id="coats-title">{words.coats}</h2>
          {zone.unknownCoats.length > 0 && <p className="field-error">{words.unknownSheet}</p>}
          <ol className="material-coats">
            {zone.coats.map((one) => (
              <li key={one.coat} className={one.state === "down" ? "coat-down" : undefined}>
                <h3>
                  {words.coat(one.coat + 1)}: {one.name} <span>{words.states[one.state]}</span>
                </h3>
                {one.state !== "down" && <CoatFacts coat={one} sheetHref={sheetHrefOf(one.sheet)} whole />}
              </li>
            ))}
          </ol>
        </section>
      </div>
      <aside className="material-side">
        <MaterialCautions hazards={coat?.hazards ?? []} />
        <ResinForm zone={zone} by={by} onWrite={onWrite} />
        {onCrew !== null && <CrewForm zone={zone} onSave={onCrew} />}
      </aside>
    </div>
  );
}
