// The sensors page: who waits to be let in, every node with its trust and what fails next, what was refused, recipes.
import { lazy, type ReactNode, Suspense, useState } from "react";
import type { EntryBody } from "#contract/journal.ts";
import { sensorsApi } from "../../data/sensors-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { sensorsText } from "../../text/sensors.ts";
import { useVoice } from "../../ui/voice.tsx";
import { AddForm } from "./add-form.tsx";
import { JoinSecret } from "./join-secret.tsx";
import { KnockCard } from "./knock-card.tsx";
import { NodeCard } from "./node-card.tsx";
import { Quarantine } from "./quarantine.tsx";
import { Recipes } from "./recipes.tsx";
import { stateOf } from "./words.ts";
import "./sensors.css";

interface Props {
  readonly site: string;
  readonly zones: readonly { readonly id: string; readonly name: string }[];
  /** May set nodes up; others only look. */
  readonly plans: boolean;
  /** Who is named in the journal. */
  readonly who: string | null;
  /** Writes into the journal; null: may not. */
  readonly onWrite: ((entry: EntryBody) => void) | null;
}

const SecondOpinions = lazy(() => import("./second-opinions.tsx"));

const EVERY_MS = 15_000;
const WRITTEN_MS = 1500;
/** What needs a person stands first. */
const ORDER = { doubted: 0, ahead: 1, trusted: 2, retired: 3 } as const;

export default function SensorsPage({ site, zones, plans, who, onWrite }: Props) {
  const { text, nowMs } = useVoice();
  const words = sensorsText(text);
  const [turn, setTurn] = useState(0);
  const asked = useAsked(() => sensorsApi.sensors(site), site, `${turn} ${Math.floor(nowMs / EVERY_MS)}`);
  const again = () => setTurn((before) => before + 1);
  const body = asked.value;
  if (body === null) return <p className="empty">{asked.failed ? text.app.failed : text.app.loading}</p>;
  const sorted = [...body.sensors].sort((a, b) => ORDER[stateOf(a)] - ORDER[stateOf(b)]);
  const living = sorted.filter(({ retiredAt }) => retiredAt === null);
  const retired = sorted.filter(({ retiredAt }) => retiredAt !== null);
  const knocks = body.knocks.filter(({ known, state }) => !(known && state === "refused"));
  const common = { site, zones, plans, onDone: again };
  const part = (title: string, inside: ReactNode) => (
    <section>
      <h2>{title}</h2>
      {inside}
    </section>
  );
  return (
    <div className="sensors">
      <h1>{words.title}</h1>
      <p className="field-help">{words.help}</p>
      {asked.failed && (
        <p className="sensor-bad" role="status">
          {words.failed}
        </p>
      )}
      {knocks.length > 0 &&
        part(
          words.knocks,
          <ul className="sensor-list">
            {knocks.map((knock) => (
              <KnockCard key={`${knock.node} ${knock.fingerprint ?? ""}`} knock={knock} {...common} />
            ))}
          </ul>,
        )}
      {part(
        words.nodes,
        <>
          {living.length === 0 && <p>{words.none}</p>}
          <ul className="sensor-list">
            {living.map((sensor) => (
              <NodeCard key={sensor.node.id} sensor={sensor} knocks={body.knocks} who={who} {...common} />
            ))}
          </ul>
          {plans && <AddForm site={site} zones={zones} onDone={again} />}
        </>,
      )}
      {body.zones.length > 0 && (
        <Suspense fallback={null}>
          <SecondOpinions
            body={body}
            zones={zones}
            onWrite={
              onWrite === null
                ? null
                : (entry) => {
                    onWrite(who === null ? entry : { ...entry, by: who });
                    // The entry is on its way; what it changed is asked for right after.
                    setTimeout(again, WRITTEN_MS);
                  }
            }
          />
        </Suspense>
      )}
      {plans && part(words.join, <JoinSecret site={site} broker={body.broker} />)}
      {part(
        words.quarantine,
        <>
          <p className="field-help">{words.quarantineHelp}</p>
          <Quarantine lines={body.quarantine} />
        </>,
      )}
      {part(words.recipes, <Recipes site={site} plans={plans} />)}
      {retired.length > 0 && (
        <details>
          <summary>{words.retiredNodes(retired.length)}</summary>
          <ul className="sensor-list">
            {retired.map((sensor) => (
              <NodeCard key={sensor.node.id} sensor={sensor} knocks={[]} who={who} {...common} />
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}
