// The secret with which new nodes knock: shown when a person asks for it.
import { useState } from "react";
import { sensorsApi } from "../../data/sensors-api.ts";
import { sensorsText } from "../../text/sensors.ts";
import { useVoice } from "../../ui/voice.tsx";
import { useAct } from "./use-act.ts";

export function JoinSecret({ site, broker }: { readonly site: string; readonly broker: string | null }) {
  const { text } = useVoice();
  const words = sensorsText(text);
  const act = useAct();
  const [secret, setSecret] = useState<string | null>(null);
  const ask = (work: () => Promise<{ readonly joinSecret: string }>) =>
    void act.run(async () => setSecret((await work()).joinSecret));
  return (
    <div>
      <p className="field-help">{words.joinHelp}</p>
      {secret !== null && (
        <dl className="sensor-once">
          <dt>{words.user}</dt>
          <dd>{site}</dd>
          <dt>{words.join}</dt>
          <dd>{secret}</dd>
          <dt>{words.broker}</dt>
          <dd>{broker ?? "?"}</dd>
        </dl>
      )}
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refusedBy(act.failed)}
        </p>
      )}
      <div className="sensor-acts">
        {secret === null && (
          <button
            type="button"
            className="button"
            disabled={act.busy}
            onClick={() => ask(() => sensorsApi.joinSecret(site))}
          >
            {words.show}
          </button>
        )}
        {secret !== null && (
          <button
            type="button"
            className="button"
            disabled={act.busy}
            onClick={() => ask(() => sensorsApi.renewJoinSecret(site))}
          >
            {words.renew}
          </button>
        )}
      </div>
    </div>
  );
}
