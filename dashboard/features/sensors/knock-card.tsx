// A node that knocks: what it says it is, and a person's yes or no.
import { useState } from "react";
import type { KnockStateBody } from "#contract/knock.ts";
import { sensorsApi } from "../../data/sensors-api.ts";
import { sensorsText } from "../../text/sensors.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showDuration } from "../../units/show.ts";
import { EXACTNESS, type Exactness, ExactnessChoice } from "./exactness.tsx";
import { PlaceForm, type Places, probesOf } from "./place-form.tsx";
import { useAct } from "./use-act.ts";
import { measureWords } from "./words.ts";

interface Props {
  readonly site: string;
  readonly knock: KnockStateBody;
  readonly zones: readonly { readonly id: string; readonly name: string }[];
  readonly plans: boolean;
  readonly onDone: () => void;
}

const USUAL_EVERY_S = 300;

export function KnockCard({ site, knock, zones, plans, onDone }: Props) {
  const { text, nowMs } = useVoice();
  const words = sensorsText(text);
  const act = useAct();
  const [open, setOpen] = useState(false);
  const [exact, setExact] = useState<Exactness>("usual");
  const [places, setPlaces] = useState<Places>({
    zone: zones[0]?.id ?? "",
    places: Object.fromEntries(
      knock.quantities.map((quantity, index) => [quantity, index === 0 ? words.places.edge : words.places.centre]),
    ),
  });
  const admit = async () => {
    const done = await act.run(() =>
      sensorsApi.admit(site, knock.node, {
        fingerprint: knock.fingerprint,
        zone: places.zone === "" ? null : places.zone,
        everyS: knock.everyS ?? USUAL_EVERY_S,
        accuracy: EXACTNESS[exact],
        ...(places.zone === "" ? {} : { probes: probesOf(knock.quantities, places) }),
      }),
    );
    if (done) onDone();
  };
  return (
    <li className="sensor sensor-ahead">
      <h3>{knock.node}</h3>
      <p>{words.knock(knock.what, knock.quantities.map((quantity) => measureWords(quantity, words)).join(", "))}</p>
      <p className="sensor-facts">{words.lastKnock(showDuration(nowMs - Date.parse(knock.lastAt)))}</p>
      <p>
        {knock.fingerprint === null
          ? words.noKey
          : words.fingerprint(knock.fingerprint.match(/.{4}/g)?.join("-") ?? "")}
      </p>
      {knock.others > 0 && <p className="sensor-bad">{words.others(knock.others)}</p>}
      {knock.held > 0 && <p>{words.held(knock.held)}</p>}
      {knock.state === "refused" && <p>{words.refused}</p>}
      {knock.known && <p className="sensor-bad">{words.known}</p>}
      {plans && open && (
        <div className="sensor-form">
          <PlaceForm zones={zones} quantities={knock.quantities} value={places} onChange={setPlaces} />
          <ExactnessChoice value={exact} onPick={setExact} />
        </div>
      )}
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refusedBy(act.failed)}
        </p>
      )}
      {plans && (
        <div className="sensor-acts">
          {!knock.known && (
            <button
              type="button"
              className={open ? "button button-main" : "button"}
              disabled={act.busy}
              onClick={() => (open ? void admit() : setOpen(true))}
            >
              {words.admit}
            </button>
          )}
          {knock.state === "waiting" && (
            <button
              type="button"
              className="button"
              disabled={act.busy}
              onClick={() => void act.run(() => sensorsApi.refuse(site, knock.node)).then((done) => done && onDone())}
            >
              {words.refuse}
            </button>
          )}
        </div>
      )}
    </li>
  );
}
