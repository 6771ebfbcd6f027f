// A zone in the list of the floor: what it is, and changing, splitting or removing it.
import { useState } from "react";
import type { BoardZoneBody, NodeStateBody } from "#contract/board.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { planText } from "../../text/plan.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showArea } from "../../units/show.ts";

interface Props {
  readonly site: string;
  readonly zone: ZoneBody;
  /** Null for a whole zone. A part is changed by joining the parts again, and by nothing else. */
  readonly splitFrom: NonNullable<BoardZoneBody["splitFrom"]> | null;
  readonly onJoin: () => void;
  readonly sheets: readonly SheetBody[];
  readonly nodes: readonly NodeStateBody[];
  readonly sensorsHref: string;
  readonly onEdit: () => void;
  /** Null where nothing is drawn that a joint could cut. */
  readonly onJoint: (() => void) | null;
  readonly onChanged: () => void;
}

export function ZoneCard(props: Props) {
  const { site, zone, splitFrom, sheets, nodes, sensorsHref, onEdit, onJoin, onJoint, onChanged } = props;
  const { text, units } = useVoice();
  const words = planText(text);
  const act = useAct();
  const [removing, setRemoving] = useState(false);
  const coats = zone.system.map((id) => sheets.find((sheet) => sheet.id === id)?.name ?? id);
  const remove = async () => {
    if ((await act.run(() => setUpApi.removeZone(site, zone.id))) !== null) onChanged();
  };
  return (
    <li className="plan-zone-card">
      <h3>{zone.name}</h3>
      <p>
        {showArea(zone.areaM2, units)}
        {zone.areaTyped === true && ` (${words.typed})`} · {words.bases[zone.base]} ·{" "}
        {words.pours(showArea(zone.pourM2PerH, units))}
      </p>
      <p className="field-help">{coats.join(" → ")}</p>
      {splitFrom !== null && <p>{words.partOf(splitFrom.name)}</p>}
      <div className="plan-tools">
        {splitFrom === null && (
          <button type="button" className="button" onClick={onEdit}>
            {words.change}
          </button>
        )}
        {onJoint !== null && (
          <button type="button" className="button" onClick={onJoint}>
            {words.split}
          </button>
        )}
        <button type="button" className="button" aria-expanded={removing} onClick={() => setRemoving(!removing)}>
          {splitFrom === null ? words.remove : words.join}
        </button>
      </div>
      {removing && splitFrom !== null && (
        <div className="plan-sure">
          <p>
            <b>{words.joinWarns(splitFrom.name)}</b>
          </p>
          <button type="button" className="button button-main" onClick={onJoin}>
            {words.joinSure}
          </button>
        </div>
      )}
      {removing && splitFrom === null && (
        <div className="plan-sure">
          <p>
            <b>{words.removeWarns(zone.name)}</b>
          </p>
          {nodes.length > 0 ? (
            <p>
              {words.removeNodes(nodes.map(({ node }) => node.id).join(", "))}{" "}
              <a className="button" href={sensorsHref}>
                {text.app.sensors}
              </a>
            </p>
          ) : (
            <button type="button" className="button button-main" disabled={act.busy} onClick={() => void remove()}>
              {words.removeSure}
            </button>
          )}
          {act.failed !== null && (
            <p className="field-error" role="alert">
              {words.refused(act.failed)}
            </p>
          )}
        </div>
      )}
    </li>
  );
}
