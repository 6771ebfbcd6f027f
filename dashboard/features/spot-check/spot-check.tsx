// A call from three numbers and a sheet, without sensors: nothing is stored.
import { type FormEvent, useEffect, useId, useState } from "react";
import type { CallBody } from "#contract/call.ts";
import { ApiFailure, ask, change } from "../../data/api.ts";
import { sheetsApi } from "../../data/sheets-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { stripWords } from "../../text/sentence.ts";
import { zoneText } from "../../text/zone.ts";
import { showBoth } from "../../units/show.ts";
import { degreeSign } from "../../units/typed.ts";
import { CallWord } from "../../ui/call-word.tsx";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { bodyOf, faultsFromServer, type SpotDraft, type SpotFaults } from "./spot-body.ts";
import "./spot-check.css";
import { spotText } from "../../text/spot.ts";

const EMPTY: SpotDraft = { slab: "", air: "", humidity: "", sheet: "", base: "porous" };

export default function SpotCheck() {
  const voice = useVoice();
  const { text, units } = voice;
  const words = spotText(text);
  const sheetId = useId();
  const sheets = useAsked(sheetsApi.all, "sheets", "");
  const [draft, setDraft] = useState(EMPTY);
  const [faults, setFaults] = useState<SpotFaults>({});
  const [call, setCall] = useState<CallBody | null>(null);
  const [trouble, setTrouble] = useState<string | null>(null);
  const [asking, setAsking] = useState(false);
  const only = sheets.value?.length === 1 ? sheets.value[0]?.id : undefined;
  useEffect(() => {
    if (only !== undefined) setDraft((before) => ({ ...before, sheet: only }));
  }, [only]);
  // A number typed as °F must not be read as °C.
  useEffect(() => {
    setCall(null);
    setFaults({});
  }, [units]);

  const set = (name: keyof SpotDraft, value: string) => {
    setDraft((before) => ({ ...before, [name]: value }));
    setFaults(({ [name]: _mended, ...rest }) => rest);
    setCall(null);
  };
  const submit = async () => {
    const made = bodyOf(draft, units, text);
    setTrouble(null);
    setCall(null);
    if (!made.ok) return setFaults(made.faults);
    setAsking(true);
    try {
      setCall(await ask<CallBody>("/spot-check", change("POST", made.body)));
    } catch (cause) {
      const told = cause instanceof ApiFailure && cause.kind === "refused" ? faultsFromServer(cause.faults) : {};
      setFaults(told);
      const refused = cause instanceof ApiFailure && cause.kind === "refused";
      if (Object.keys(told).length === 0) setTrouble(refused ? `${words.refused} ${cause.message}` : text.app.failed);
    } finally {
      setAsking(false);
    }
  };
  const number = (name: "slab" | "air" | "humidity", label: string, unit: string) => (
    <Field label={label} unit={unit} value={draft[name]} error={faults[name]} onType={(value) => set(name, value)} />
  );
  const said = call === null ? null : stripWords({ call, marginLimitK: null, past: [] }, voice);
  const conditions = call?.conditions;
  return (
    <section className="spot" aria-label={words.title}>
      <form
        noValidate
        onSubmit={(event: FormEvent) => {
          event.preventDefault();
          void submit();
        }}
      >
        <h1>{words.title}</h1>
        <p>{words.intro}</p>
        {number("slab", words.slab, degreeSign(units))}
        {number("air", words.air, degreeSign(units))}
        {number("humidity", words.humidity, "%")}
        <div className="field">
          <label htmlFor={sheetId}>{words.sheet}</label>
          <div className="field-row">
            <select
              id={sheetId}
              value={draft.sheet}
              aria-invalid={faults.sheet !== undefined}
              aria-describedby={`${sheetId}-error`}
              onChange={(event) => set("sheet", event.target.value)}
            >
              <option value="">{words.pick}</option>
              {(sheets.value ?? []).map((sheet) => (
                <option key={sheet.id} value={sheet.id}>
                  {sheet.name}
                </option>
              ))}
            </select>
          </div>
          <p className="field-error" id={`${sheetId}-error`} role="alert">
            {faults.sheet ?? (sheets.value?.length === 0 ? words.noSheets : "")}
          </p>
        </div>
        <Choice
          label={words.base}
          options={{ porous: words.porous, sealed: words.sealed }}
          value={draft.base}
          onPick={(value) => set("base", value)}
        />
        <button type="submit" className="button button-main" disabled={asking}>
          {asking ? words.asking : words.ask}
        </button>
      </form>
      <div className="spot-result" role="status" aria-live="polite">
        {trouble !== null && <p className="field-error">{trouble}</p>}
        {call !== null && said !== null && (
          <>
            <h2>{words.result}</h2>
            <CallWord call={call} old={false} />
            <p className="spot-why">
              <b>{said.lead}</b> {said.rest}
            </p>
            {conditions !== undefined && conditions.dewPointC !== null && conditions.marginK !== null && (
              <dl>
                <div>
                  <dt>{zoneText(text).numbers.dew}</dt>
                  <dd>{showBoth(conditions.dewPointC, "C", units)}</dd>
                </div>
                <div>
                  <dt>{zoneText(text).numbers.margin}</dt>
                  <dd>{showBoth(conditions.marginK, "K", units)}</dd>
                </div>
              </dl>
            )}
            <p className="spot-note">{words.onlyNow}</p>
          </>
        )}
      </div>
    </section>
  );
}
