// The floor of a site while it is set up: all outlines on one paper, and every zone with what can be done to it.
import { type ReactNode, useState } from "react";
import type { BoardZoneBody, NodeStateBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { planText } from "../../text/plan.ts";
import { useVoice } from "../../ui/voice.tsx";
import { viewOf } from "./drawing.ts";
import { JointEdit } from "./joint-edit.tsx";
import { PictureEdit } from "./picture-edit.tsx";
import { Surface } from "./surface.tsx";
import { ZoneCard } from "./zone-card.tsx";
import { ZoneEdit } from "./zone-edit.tsx";
import { ZoneShape } from "./zone-shape.tsx";

interface Props {
  readonly site: string;
  readonly zones: readonly ZoneBody[];
  /** Of parts of a split, by their id. */
  readonly splits: ReadonlyMap<string, NonNullable<BoardZoneBody["splitFrom"]>>;
  readonly nodes: readonly NodeStateBody[];
  readonly sheets: readonly SheetBody[];
  readonly system: readonly string[];
  readonly by: string | null;
  readonly sensorsHref: string;
  readonly onWrite: (entry: EntryBody) => void;
  /** Something has changed on the server. */
  readonly onChanged: () => void;
  /** What stands below while nothing is being drawn: a way on must not lead away from an outline that is not kept. */
  readonly children: ReactNode;
}

type Doing =
  | { readonly do: "look" }
  | { readonly do: "new" }
  | { readonly do: "picture" }
  | { readonly do: "edit" | "joint"; readonly zone: string };

export function FloorEdit({
  site,
  zones,
  splits,
  nodes,
  sheets,
  system,
  by,
  sensorsHref,
  onWrite,
  onChanged,
  children,
}: Props) {
  const { text, nowMs } = useVoice();
  const words = planText(text);
  const [doing, setDoing] = useState<Doing>({ do: "look" });
  const [times, setTimes] = useState(0);
  const asked = useAsked(() => setUpApi.plan(site), site, String(times));
  const plan = asked.value;
  const look = () => setDoing({ do: "look" });
  const changed = () => {
    setTimes(times + 1);
    onChanged();
  };
  const saved = () => {
    look();
    changed();
  };
  const join = (split: NonNullable<BoardZoneBody["splitFrom"]>) => {
    onWrite({
      did: "undone",
      at: new Date(nowMs).toISOString(),
      zone: split.zone,
      undoes: split.entry,
      ...(by === null ? {} : { by }),
    });
    changed();
  };
  const outlines = zones.flatMap(({ outline }) => (outline === undefined ? [] : [outline]));
  const chosen = "zone" in doing ? zones.find(({ id }) => id === doing.zone) : undefined;
  if (doing.do === "picture")
    return <PictureEdit site={site} plan={plan} outlines={outlines} by={by} onSaved={changed} onCancel={look} />;
  if (doing.do === "joint" && chosen?.outline !== undefined)
    return (
      <JointEdit
        {...{ site, zones, nodes, plan, by, nowMs }}
        zone={{ ...chosen, outline: chosen.outline }}
        onWrite={(entry) => {
          onWrite(entry);
          saved();
        }}
        onCancel={look}
      />
    );
  if (doing.do === "new" || (doing.do === "edit" && chosen !== undefined))
    return (
      <ZoneEdit
        {...{ site, zones, sheets, system, plan }}
        zone={doing.do === "new" ? null : (chosen ?? null)}
        onSaved={saved}
        onCancel={look}
      />
    );
  return (
    <div className="plan-edit-room">
      {(outlines.length > 0 || (plan?.picture ?? null) !== null) && (
        <Surface
          label={words.paper}
          size={viewOf(plan, outlines)}
          plan={plan}
          photoHref={(photo) => setUpApi.photoHref(site, photo)}
        >
          {(paper) =>
            zones.map(({ id, name, outline }) =>
              outline === undefined ? null : <ZoneShape key={id} outline={outline} name={name} paper={paper} />,
            )
          }
        </Surface>
      )}
      {asked.failed && <p className="field-error">{text.app.failed}</p>}
      <div className="plan-tools">
        <button
          type="button"
          className={zones.length === 0 ? "button button-main" : "button"}
          onClick={() => setDoing({ do: "new" })}
        >
          {words.newZone}
        </button>
        <button type="button" className="button" onClick={() => setDoing({ do: "picture" })}>
          {words.pictureTitle}
        </button>
      </div>
      {zones.length === 0 ? (
        <p className="field-help">{words.noZones}</p>
      ) : (
        <ul className="plan-zones">
          {zones.map((zone) => {
            const splitFrom = splits.get(zone.id) ?? null;
            return (
              <ZoneCard
                key={zone.id}
                {...{ site, zone, splitFrom, sheets, sensorsHref }}
                onJoin={() => splitFrom !== null && join(splitFrom)}
                nodes={nodes.filter(({ node, retired }) => node.zone === zone.id && retired !== true)}
                onEdit={() => setDoing({ do: "edit", zone: zone.id })}
                onJoint={zone.outline === undefined ? null : () => setDoing({ do: "joint", zone: zone.id })}
                onChanged={changed}
              />
            );
          })}
        </ul>
      )}
      {children}
    </div>
  );
}
