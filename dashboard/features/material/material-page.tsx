// Material of a site: what each coat of each zone takes, and the order list.
import type { TakeoffBody } from "#contract/takeoff.ts";
import { materialText } from "../../text/material.ts";
import { showArea } from "../../units/show.ts";
import { useVoice } from "../../ui/voice.tsx";
import { CoatFacts } from "./coat-facts.tsx";
import "./material.css";
import { OrderList } from "./order-list.tsx";

interface Props {
  readonly takeoff: TakeoffBody;
  readonly hrefOf: (zone: string) => string;
  /** null: whoever looks may not plan. */
  readonly sheetHrefOf: (sheet: string) => string | null;
}

export function MaterialPage({ takeoff, hrefOf, sheetHrefOf }: Props) {
  const { text, units } = useVoice();
  const words = materialText(text);
  return (
    <div className="material">
      <section className="material-order" aria-labelledby="order-title">
        <h2 id="order-title">{words.order}</h2>
        {takeoff.failed.length > 0 && (
          <p className="field-error" role="alert">
            {words.orderWithout(takeoff.failed.map(({ name }) => name).join(", "))}
          </p>
        )}
        <OrderList order={takeoff.order} />
      </section>
      <section aria-labelledby="material-title" className="material-zones">
        <h2 id="material-title">{words.title}</h2>
        <p className="why-note">{words.lead}</p>
        {takeoff.zones.length + takeoff.failed.length === 0 && <p>{words.none}</p>}
        {takeoff.failed.map(({ zone, name, reason }) => (
          <article key={zone} className="material-zone">
            <h3>{name}</h3>
            <p className="field-error">{words.notReckoned(reason)}</p>
          </article>
        ))}
        {takeoff.zones.map((zone) => (
          <article key={zone.zone} className="material-zone">
            <h3>
              {zone.name} <span>{showArea(zone.areaM2, units)}</span>
            </h3>
            {zone.unknownCoats.length > 0 && <p className="field-error">{words.unknownSheet}</p>}
            <ol>
              {zone.coats.map((coat) => (
                <li key={coat.coat} className={coat.state === "down" ? "coat-down" : undefined}>
                  <h4>
                    {words.coat(coat.coat + 1)}: {coat.name} <span>{words.states[coat.state]}</span>
                  </h4>
                  {coat.state !== "down" && <CoatFacts coat={coat} sheetHref={sheetHrefOf(coat.sheet)} whole={false} />}
                </li>
              ))}
            </ol>
            <a className="button" href={hrefOf(zone.zone)} aria-label={`${zone.name}: ${words.open}`}>
              {words.open}
            </a>
          </article>
        ))}
      </section>
    </div>
  );
}
