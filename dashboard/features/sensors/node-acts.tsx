// What a person does with a node: a new password, moving, replacing, taking it out of use.
import { useState } from "react";
import type { KnockStateBody } from "#contract/knock.ts";
import type { SensorBody } from "#contract/sensors.ts";
import { sensorsApi } from "../../data/sensors-api.ts";
import { sensorsText } from "../../text/sensors.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { PasswordForm } from "./password-form.tsx";
import { PlaceForm, type Places, probesOf } from "./place-form.tsx";
import { useAct } from "./use-act.ts";

interface Props {
  readonly site: string;
  readonly sensor: SensorBody;
  readonly zones: readonly { readonly id: string; readonly name: string }[];
  readonly knocks: readonly KnockStateBody[];
  readonly who: string | null;
  readonly onDone: () => void;
}

type Doing = "password" | "move" | "replace" | "retire";

export function NodeActs({ site, sensor, zones, knocks, who, onDone }: Props) {
  const { text } = useVoice();
  const words = sensorsText(text);
  const act = useAct();
  const { node } = sensor;
  const quantities = [
    ...new Set([...Object.keys(node.probes ?? {}), ...sensor.quantities.map(({ quantity }) => quantity)]),
  ];
  const [doing, setDoing] = useState<Doing | null>(null);
  const [places, setPlaces] = useState<Places>({
    zone: node.zone ?? "",
    places: Object.fromEntries(
      Object.entries(node.probes ?? {}).map(([quantity, { place = "" }]) => [quantity, place]),
    ),
  });
  const [by, setBy] = useState("");
  const waiting = knocks.filter(({ state }) => state === "waiting");
  const named = who === null ? {} : { who };
  const finish = (work: () => Promise<unknown>) =>
    void act.run(work).then((done) => {
      if (!done) return;
      setDoing(null);
      onDone();
    });
  const move = () =>
    sensorsApi.move(site, node.id, {
      zone: places.zone === "" ? null : places.zone,
      ...(places.zone === "" ? {} : { probes: probesOf(quantities, places) }),
      ...named,
    });
  const replace = () => {
    const knock = waiting.find((one) => one.node === by.trim());
    return sensorsApi.replace(site, node.id, {
      by: by.trim(),
      ...(knock === undefined ? {} : { fingerprint: knock.fingerprint }),
      ...named,
    });
  };
  const tell = act.failed !== null && (
    <p className="field-error" role="alert">
      {words.refusedBy(act.failed)}
    </p>
  );
  const closing = (label: string, work: () => Promise<unknown>) => (
    <>
      {tell}
      <div className="sensor-acts">
        <button type="button" className="button button-main" disabled={act.busy} onClick={() => finish(work)}>
          {label}
        </button>
        <button type="button" className="button" onClick={() => setDoing(null)}>
          {words.cancel}
        </button>
      </div>
    </>
  );
  switch (doing) {
    case "password":
      return (
        <PasswordForm
          site={site}
          node={node.id}
          onDone={() => {
            setDoing(null);
            onDone();
          }}
        />
      );
    case "move":
      return (
        <div className="sensor-form">
          <PlaceForm zones={zones} quantities={quantities} value={places} onChange={setPlaces} />
          {places.zone !== (node.zone ?? "") && <p className="field-help">{words.moveHelp}</p>}
          {closing(words.move, move)}
        </div>
      );
    case "replace":
      return (
        <div className="sensor-form">
          <p className="field-help">{words.replaceHelp}</p>
          {waiting.length > 0 && (
            <Choice
              label={words.knocks}
              options={Object.fromEntries(waiting.map((one) => [one.node, words.replaceKnock(one.node)]))}
              value={by}
              onPick={setBy}
            />
          )}
          <Field label={words.replaceBy} type="text" value={by} help={words.addNameHelp} onType={setBy} />
          {closing(words.replace, replace)}
        </div>
      );
    case "retire":
      return (
        <div className="sensor-form">
          <p>{words.retireHelp}</p>
          {closing(words.sure, () => sensorsApi.retire(site, node.id, who))}
        </div>
      );
    case null:
      return (
        <div className="sensor-acts">
          <a className="button" href={sensorsApi.labelHref(site, node.id)} target="_blank" rel="noreferrer">
            {words.label}
          </a>
          {(["password", "move", "replace", "retire"] as const).map((what) => (
            <button key={what} type="button" className="button" onClick={() => setDoing(what)}>
              {words[what]}
            </button>
          ))}
        </div>
      );
  }
}
