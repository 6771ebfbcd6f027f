// Second opinions of each zone: hand readings, salt checks, neighbours.
import type { EntryBody } from "#contract/journal.ts";
import type { SensorsBody } from "#contract/sensors.ts";
import { opinionsText } from "../../text/opinions.ts";
import { useVoice } from "../../ui/voice.tsx";
import { HandForm } from "./hand-form.tsx";
import { Neighbours } from "./neighbours.tsx";
import { Offsets } from "./offsets.tsx";
import { SaltCheck } from "./salt-check.tsx";
import { SaltList } from "./salt-list.tsx";
import "./second-opinions.css";

interface Props {
  readonly body: SensorsBody;
  readonly zones: readonly { readonly id: string; readonly name: string }[];
  /** null: only looks. */
  readonly onWrite: ((entry: EntryBody) => void) | null;
}

export default function SecondOpinions({ body, zones, onWrite }: Props) {
  const { text } = useVoice();
  const words = opinionsText(text);
  return (
    <section className="opinions">
      <h2>{words.title}</h2>
      <p className="field-help">{words.help}</p>
      {body.zones.map((item) => {
        const sensors = body.sensors.filter(({ node, retiredAt }) => node.zone === item.zone && retiredAt === null);
        return (
          <article key={item.zone} aria-label={zones.find(({ id }) => id === item.zone)?.name ?? item.zone}>
            <h3>{zones.find(({ id }) => id === item.zone)?.name ?? item.zone}</h3>
            <div className="opinions-part">
              <h4>{words.hand}</h4>
              <Offsets opinions={item.opinions} />
              {onWrite !== null && <HandForm zone={item.zone} sensors={sensors} onWrite={onWrite} />}
            </div>
            <div className="opinions-part">
              <h4>{words.salt}</h4>
              <SaltList checks={item.saltChecks} sensors={sensors} />
              {onWrite !== null && (
                <SaltCheck zone={item.zone} sensors={sensors} bagged={item.bagged} onWrite={onWrite} />
              )}
            </div>
            <div className="opinions-part">
              <h4>{words.pairs}</h4>
              <Neighbours pairs={item.pairs} />
            </div>
          </article>
        );
      })}
    </section>
  );
}
