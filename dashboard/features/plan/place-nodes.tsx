// Probes on the plan: pick one, say what kind of spot it lies on, tap where. Advice stands beside each kind.
import { useState } from "react";
import type { NodeStateBody } from "#contract/board.ts";
import type { NodeBody, ZoneBody } from "#contract/zone.ts";
import { isInside, type PlanPoint } from "#core/plan/polygon.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { useAsked } from "../../data/use-asked.ts";
import { planText } from "../../text/plan.ts";
import { sensorsText } from "../../text/sensors.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { paperOf } from "./drawing.ts";
import { NodeMark } from "./node-mark.tsx";
import { type PlacedProbe, probesOf } from "./probes.ts";
import { Surface } from "./surface.tsx";
import { ZoneShape } from "./zone-shape.tsx";

interface Props {
  readonly site: string;
  readonly zones: readonly ZoneBody[];
  readonly nodes: readonly NodeStateBody[];
  readonly onChanged: () => void;
}

const KINDS = ["edge", "centre", "sun", "other"] as const;

export function PlaceNodes({ site, zones, nodes, onChanged }: Props) {
  const { text } = useVoice();
  const words = planText(text);
  const sensors = sensorsText(text);
  const act = useAct();
  const plan = useAsked(() => setUpApi.plan(site), site, "").value;
  const [picked, setPicked] = useState<string | null>(null);
  const probes = probesOf(nodes);
  const probe = probes.find(({ key }) => key === picked) ?? null;
  const zoneOf = (one: PlacedProbe) => zones.find(({ id }) => id === one.node.zone);
  const zone = probe === null ? undefined : zoneOf(probe);
  const kind = KINDS.find((one) => one !== "other" && sensors.places[one] === probe?.place) ?? "other";
  const put = async (change: { readonly place?: string; readonly at?: PlanPoint }) => {
    if (probe === null) return;
    const { node, quantity } = probe;
    const known = node.probes?.[quantity] ?? {};
    const next = {
      ...known,
      ...(change.place === undefined ? {} : { place: change.place }),
      ...(change.at === undefined ? {} : { xM: round(change.at.xM), yM: round(change.at.yM) }),
    };
    const all: NodeBody["probes"] = { ...node.probes, [quantity]: next };
    if ((await act.run(() => setUpApi.patchNode(site, node.id, { probes: all }))) !== null) onChanged();
  };
  const at = probe?.at ?? null;
  const outside = at !== null && zone?.outline !== undefined && !isInside(zone.outline, at);
  if (probes.length === 0) return <p className="field-help">{words.noNodes}</p>;
  return (
    <div className="plan-edit-room">
      <Choice
        label={words.probeWhich}
        options={Object.fromEntries(probes.map((one) => [one.key, `${one.label}${one.at === null ? "" : " ✓"}`]))}
        value={picked ?? ""}
        onPick={setPicked}
      />
      {probe !== null && probe.node.zone !== null && (
        <>
          <Choice
            label={words.probeKind(probe.label)}
            options={sensors.places}
            value={kind}
            onPick={(one) =>
              void put({ place: one === "other" ? probe.label : sensors.places[one as (typeof KINDS)[number]] })
            }
          />
          <p className="field-help">{sensors.advice[kind]}</p>
        </>
      )}
      {probe !== null && probe.node.zone === null && <p className="field-help">{sensors.advice.outdoors}</p>}
      <p className="plan-said" role="status">
        {probe === null ? words.probePick : <b>{words.probeTap(probe.label, zone?.name ?? sensors.outdoors)}</b>}
      </p>
      <Surface
        label={words.paper}
        size={paperOf(
          plan,
          zones.flatMap(({ outline }) => (outline === undefined ? [] : [outline])),
        )}
        plan={plan}
        photoHref={(photo) => setUpApi.photoHref(site, photo)}
        onTap={(at) => void put({ at })}
      >
        {(paper) => (
          <>
            {zones.map(({ id, name, outline }) =>
              outline === undefined ? null : (
                <ZoneShape
                  key={id}
                  outline={outline}
                  name={name}
                  paper={paper}
                  kind={id === probe?.node.zone ? "chosen" : "still"}
                />
              ),
            )}
            {probes.map((one) =>
              one.at === null ? null : (
                <NodeMark
                  key={one.key}
                  at={one.at}
                  label={one.label}
                  chosen={one.key === picked}
                  silent={false}
                  paper={paper}
                />
              ),
            )}
          </>
        )}
      </Surface>
      {outside && <p className="plan-warn">{words.probeOutside(zone?.name ?? "")}</p>}
      <p className="field-help">{words.probeMoved}</p>
      <p className="field-help">{sensors.advice.how}</p>
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refused(act.failed)}
        </p>
      )}
    </div>
  );
}

const round = (m: number) => Math.round(m * 100) / 100;
