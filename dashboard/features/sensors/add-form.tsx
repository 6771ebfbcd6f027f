// A node made by hand: name, probes and places; its password comes right after.
import { useState } from "react";
import { sensorsApi } from "../../data/sensors-api.ts";
import { sensorsText } from "../../text/sensors.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { EXACTNESS, type Exactness, ExactnessChoice } from "./exactness.tsx";
import { PasswordForm } from "./password-form.tsx";
import { PlaceForm, type Places, probesOf } from "./place-form.tsx";
import { useAct } from "./use-act.ts";

interface Props {
  readonly site: string;
  readonly zones: readonly { readonly id: string; readonly name: string }[];
  readonly onDone: () => void;
}

const EVERY = { "60": "1 min", "300": "5 min", "600": "10 min", "900": "15 min" } as const;

export function AddForm({ site, zones, onDone }: Props) {
  const { text } = useVoice();
  const words = sensorsText(text);
  const act = useAct();
  const [open, setOpen] = useState(false);
  const [name, setName] = useState("");
  const [count, setCount] = useState("1");
  const [everyS, setEveryS] = useState("300");
  const [exact, setExact] = useState<Exactness>("usual");
  const [added, setAdded] = useState<string | null>(null);
  const [places, setPlaces] = useState<Places>({
    zone: zones[0]?.id ?? "",
    places: { slab: words.places.edge, "slab.2": words.places.centre, "slab.3": words.places.sun },
  });
  const quantities = Array.from({ length: Number(count) }, (_, index) => (index === 0 ? "slab" : `slab.${index + 1}`));
  const close = () => {
    setOpen(false);
    setAdded(null);
    setName("");
    onDone();
  };
  const add = async () => {
    const done = await act.run(() =>
      sensorsApi.add(site, {
        id: name.trim(),
        zone: places.zone === "" ? null : places.zone,
        everyS: Number(everyS),
        accuracy: EXACTNESS[exact],
        ...(places.zone === "" ? {} : { probes: probesOf(quantities, places) }),
      }),
    );
    if (done) setAdded(name.trim());
  };
  if (!open)
    return (
      <button type="button" className="button" onClick={() => setOpen(true)}>
        {words.add}
      </button>
    );
  if (added !== null) return <PasswordForm site={site} node={added} onDone={close} />;
  return (
    <div className="sensor-form">
      <Field label={words.addName} type="text" value={name} help={words.addNameHelp} onType={setName} />
      <Choice label={words.every_s} options={EVERY} value={everyS} onPick={setEveryS} />
      {places.zone !== "" && (
        <Choice
          label={words.addProbes}
          options={{ "0": "0", "1": "1", "2": "2", "3": "3" }}
          value={count}
          onPick={setCount}
        />
      )}
      <PlaceForm zones={zones} quantities={quantities} value={places} onChange={setPlaces} />
      <ExactnessChoice value={exact} onPick={setExact} />
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refusedBy(act.failed)}
        </p>
      )}
      <div className="sensor-acts">
        <button
          type="button"
          className="button button-main"
          disabled={act.busy || name.trim() === ""}
          onClick={() => void add()}
        >
          {words.add}
        </button>
        <button type="button" className="button" onClick={close}>
          {words.cancel}
        </button>
      </div>
    </div>
  );
}
