// The salt check as steps: what it takes, into the bag, the soak counted down, the read-out from live data, written down.
import { useState } from "react";
import type { EntryBody } from "#contract/journal.ts";
import type { SensorBody } from "#contract/sensors.ts";
import type { ZoneOpinionsBody } from "#contract/second-opinion.ts";
import type { Salt } from "#core/air/salt-points.ts";
import { opinionsText } from "../../text/opinions.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { isoNow } from "./iso-now.ts";
import { Soaking } from "./soaking.tsx";

interface Props {
  readonly zone: string;
  readonly sensors: readonly SensorBody[];
  readonly bagged: ZoneOpinionsBody["bagged"];
  readonly onWrite: (entry: EntryBody) => void;
}

export function SaltCheck({ zone, sensors, bagged, onWrite }: Props) {
  const { text, nowMs } = useVoice();
  const words = opinionsText(text);
  const [open, setOpen] = useState(false);
  const [chip, setChip] = useState("");
  const [salt, setSalt] = useState<Salt>("sodium-chloride");
  const chips = sensors
    .filter(({ quantities }) => quantities.some(({ quantity }) => quantity === "rh"))
    .map(({ node }) => `${node.id}/rh`)
    .filter((probe) => !bagged.some((one) => one.probe === probe));
  const chosen = chips.includes(chip) ? chip : (chips[0] ?? "");
  const begin = () => {
    onWrite({ did: "salt-bagged", at: isoNow(nowMs), zone, probe: chosen, salt });
    setOpen(false);
  };
  return (
    <>
      {bagged.map((one) => (
        <Soaking key={one.probe} zone={zone} bag={one} sensors={sensors} onWrite={onWrite} />
      ))}
      {chips.length > 0 && !open && (
        <button type="button" className="button" onClick={() => setOpen(true)}>
          {words.start}
        </button>
      )}
      {open && chips.length > 0 && (
        <div className="sensor-form">
          <Choice
            label={words.chip}
            options={Object.fromEntries(chips.map((probe) => [probe, probe]))}
            value={chosen}
            onPick={setChip}
          />
          <Choice label={words.which} options={words.salts} value={salt} onPick={(picked) => setSalt(picked as Salt)} />
          <ol className="salt-steps">
            <li>
              <b>{words.steps.need}:</b> {words.steps.needSalt[salt]}
            </li>
            <li>{words.steps.mix}</li>
            <li>{words.steps.close}</li>
          </ol>
          <p className="sensor-warn">{words.steps.care}</p>
          <p>{words.steps.silent}</p>
          <div className="sensor-acts">
            <button type="button" className="button button-main" onClick={begin}>
              {words.steps.bag}
            </button>
            <button type="button" className="button" onClick={() => setOpen(false)}>
              {words.cancel}
            </button>
          </div>
        </div>
      )}
    </>
  );
}
