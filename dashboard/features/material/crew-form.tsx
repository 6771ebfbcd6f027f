// People and rate of a zone, and the temperature of the resin: what the batches are sized by.
import { useState } from "react";
import type { EntryBody } from "#contract/journal.ts";
import type { ZoneTakeoffBody } from "#contract/takeoff.ts";
import { ft2FromM2, m2FromFt2 } from "#core/units.ts";
import type { Crew } from "../../data/material-api.ts";
import { materialText } from "../../text/material.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { plain, showBoth } from "../../units/show.ts";
import { cFromTyped, degreeSign, numberFromTyped } from "../../units/typed.ts";

interface CrewProps {
  readonly zone: ZoneTakeoffBody;
  readonly onSave: (crew: Crew) => Promise<void>;
}

export function CrewForm({ zone, onSave }: CrewProps) {
  const { text, units } = useVoice();
  const words = materialText(text);
  const shownRate = plain(units === "us" ? ft2FromM2(zone.pourM2PerH) : zone.pourM2PerH, 0);
  const [people, setPeople] = useState(zone.people === null ? "" : String(zone.people));
  const [rate, setRate] = useState(shownRate);
  const [state, setState] = useState<"idle" | "saving" | "saved" | "failed">("idle");
  const [faults, setFaults] = useState<{ readonly people?: string; readonly rate?: string }>({});
  const save = async () => {
    const count = numberFromTyped(people);
    const typedRate = numberFromTyped(rate);
    const badPeople = count !== null && !(Number.isInteger(count) && count >= 1 && count <= 100);
    const badRate = !(typedRate !== null && typedRate > 0);
    setFaults({ ...(badPeople ? { people: words.needPeople } : {}), ...(badRate ? { rate: words.needRate } : {}) });
    if (badPeople || badRate) return;
    setState("saving");
    try {
      // What was not touched stays exact: the shown rate is rounded.
      const pourM2PerH = rate === shownRate ? zone.pourM2PerH : units === "us" ? m2FromFt2(typedRate) : typedRate;
      await onSave({ pourM2PerH, ...(count === null ? {} : { people: count }) });
      setState("saved");
    } catch {
      setState("failed");
    }
  };
  return (
    <form
      className="crew-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <h2>{words.crew}</h2>
      <p className="field-help">{words.crewHelp}</p>
      <Field label={words.people} value={people} error={faults.people} onType={setPeople} />
      <Field
        label={words.rate}
        value={rate}
        unit={units === "us" ? "ft²/h" : "m²/h"}
        error={faults.rate}
        onType={setRate}
      />
      <button type="submit" className="button" disabled={state === "saving"}>
        {words.save}
      </button>
      <p role="status">{state === "saved" ? words.saved : state === "failed" ? words.saveFailed : ""}</p>
    </form>
  );
}

interface ResinProps {
  readonly zone: ZoneTakeoffBody;
  readonly by: string | null;
  readonly onWrite: ((entry: EntryBody) => void) | null;
}

export function ResinForm({ zone, by, onWrite }: ResinProps) {
  const { text, units, nowMs, clock } = useVoice();
  const words = materialText(text);
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<string | undefined>(undefined);
  const [written, setWritten] = useState(false);
  const { resinC, basis, at } = zone.resin;
  const write = () => {
    const resin = cFromTyped(typed, units);
    // The bounds of the journal.
    if (resin === null || !(resin >= -60 && resin <= 80)) return setFault(words.needDegrees);
    setFault(undefined);
    onWrite?.({
      ...{ did: "measured" as const, at: new Date(nowMs).toISOString(), zone: zone.zone, resinC: resin },
      ...(by === null ? {} : { by }),
    });
    setTyped("");
    setWritten(true);
  };
  return (
    <form
      className="resin-form"
      onSubmit={(event) => {
        event.preventDefault();
        write();
      }}
    >
      <h2>{words.resin}</h2>
      <p className="resin-now">
        {words.resinNow(showBoth(resinC, "C", units), words.bases[basis])}
        {at !== null && ` ${words.resinAt(clock.when(Date.parse(at), nowMs))}`}
      </p>
      {onWrite !== null && (
        <>
          <Field
            label={words.resin}
            value={typed}
            unit={degreeSign(units)}
            help={words.resinHelp}
            error={fault}
            onType={(value) => {
              setTyped(value);
              setWritten(false);
            }}
          />
          <button type="submit" className="button">
            {words.write}
          </button>
          <p role="status">{written ? words.written : ""}</p>
        </>
      )}
    </form>
  );
}
