// A node's password: made here, shown this one time, with a label to print.
import { useState } from "react";
import type { CredentialsBody } from "#contract/knock.ts";
import { sensorsApi } from "../../data/sensors-api.ts";
import { sensorsText } from "../../text/sensors.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { useAct } from "./use-act.ts";

interface Props {
  readonly site: string;
  readonly node: string;
  readonly onDone: () => void;
}

export function PasswordForm({ site, node, onDone }: Props) {
  const { text } = useVoice();
  const words = sensorsText(text);
  const act = useAct();
  const [inLabel, setInLabel] = useState<"no" | "yes">("no");
  const [made, setMade] = useState<CredentialsBody | null>(null);
  if (made !== null) {
    const label = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(made.label)}`;
    return (
      <div className="sensor-form" role="status">
        <p>
          <b>{words.once}</b>
        </p>
        <dl className="sensor-once">
          <dt>{words.user}</dt>
          <dd>{made.username}</dd>
          <dt>{words.pass}</dt>
          <dd>{made.password}</dd>
          <dt>{words.broker}</dt>
          <dd>{made.broker}</dd>
        </dl>
        <img className="sensor-label" src={label} alt={`${words.label}: ${node}`} />
        <div className="sensor-acts">
          <a className="button" href={label} download={`${site}-${node}.svg`}>
            {words.saveLabel}
          </a>
          <button type="button" className="button button-main" onClick={onDone}>
            {words.done}
          </button>
        </div>
      </div>
    );
  }
  return (
    <div className="sensor-form">
      <p className="field-help">{words.passwordHelp}</p>
      <Choice
        label={words.secretInLabel}
        options={words.inLabel}
        value={inLabel}
        onPick={(picked) => setInLabel(picked as "no" | "yes")}
      />
      {inLabel === "yes" && <p className="field-help">{words.inLabelHelp}</p>}
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refusedBy(act.failed)}
        </p>
      )}
      <div className="sensor-acts">
        <button
          type="button"
          className="button button-main"
          disabled={act.busy}
          onClick={() => void act.run(async () => setMade(await sensorsApi.credentials(site, node, inLabel === "yes")))}
        >
          {words.make}
        </button>
        <button type="button" className="button" onClick={onDone}>
          {words.cancel}
        </button>
      </div>
    </div>
  );
}
