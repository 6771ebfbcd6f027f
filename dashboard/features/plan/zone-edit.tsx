// One zone, new or known: its outline on the paper and its numbers below, kept together or not at all.
import { useReducer, useState } from "react";
import type { PlanBody } from "#contract/plan.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { areaM2, outlineFault } from "#core/plan/polygon.ts";
import { idFrom } from "../../data/id-from.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { planText } from "../../text/plan.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { lengthSign, mFromTyped } from "../../units/lengths.ts";
import { showArea } from "../../units/show.ts";
import { CornerList } from "./corner-list.tsx";
import { drawingOf, drawn, paperOf, rectangleBeside } from "./drawing.ts";
import { meant, OutlineEdit } from "./outline-edit.tsx";
import { Surface } from "./surface.tsx";
import { draftOf, ZoneForm, type ZoneFaults, zoneFrom } from "./zone-form.tsx";
import { ZoneShape } from "./zone-shape.tsx";

interface Props {
  readonly site: string;
  readonly zone: ZoneBody | null;
  readonly zones: readonly ZoneBody[];
  readonly sheets: readonly SheetBody[];
  /** Coats that a new zone begins with. */
  readonly system: readonly string[];
  readonly plan: PlanBody | null;
  readonly onSaved: () => void;
  readonly onCancel: () => void;
}

function Rectangle({ onMake }: { readonly onMake: (lengthM: number, widthM: number) => void }) {
  const { text, units } = useVoice();
  const words = planText(text);
  const [sides, setSides] = useState({ length: "", width: "" });
  const [wrong, setWrong] = useState(false);
  const make = () => {
    const [lengthM, widthM] = [mFromTyped(sides.length, units), mFromTyped(sides.width, units)];
    const good =
      lengthM !== null && widthM !== null && lengthM >= 0.2 && widthM >= 0.2 && lengthM <= 2000 && widthM <= 2000;
    setWrong(!good);
    if (good) onMake(lengthM, widthM);
  };
  return (
    <div className="plan-rectangle">
      <Field
        label={words.rectLength}
        unit={lengthSign(units)}
        value={sides.length}
        error={wrong ? words.faults.sides : undefined}
        onType={(length) => setSides({ ...sides, length })}
      />
      <Field
        label={words.rectWidth}
        unit={lengthSign(units)}
        value={sides.width}
        onType={(width) => setSides({ ...sides, width })}
      />
      <button type="button" className="button" onClick={make}>
        {words.rectMake}
      </button>
    </div>
  );
}

export function ZoneEdit({ site, zone, zones, sheets, system, plan, onSaved, onCancel }: Props) {
  const { text, units } = useVoice();
  const words = planText(text);
  const act = useAct();
  const [drawing, stroke] = useReducer(drawn, drawingOf(zone?.outline ?? []));
  const [draft, setDraft] = useState(() => draftOf(zone, words.zoneNth(zones.length + 1), system, units));
  const [faults, setFaults] = useState<ZoneFaults>({});
  const { corners, closed } = drawing;
  const others = zones.filter(({ id }) => id !== zone?.id);
  const outlines = others.flatMap(({ outline }) => (outline === undefined ? [] : [outline]));
  const fault = corners.length >= 3 ? outlineFault(corners) : null;
  const save = async () => {
    const read = zoneFrom(draft, corners, text, units);
    setFaults("faults" in read ? read.faults : {});
    if ("faults" in read) return;
    const done = await act.run(() =>
      zone === null
        ? setUpApi.addZone(site, {
            ...read.body,
            id: idFrom(
              read.body.name,
              zones.map(({ id }) => id),
              "zone",
            ),
          })
        : setUpApi.patchZone(site, zone.id, read.body),
    );
    if (done !== null) onSaved();
  };
  return (
    <section className="plan-edit-room" aria-label={zone === null ? words.newZone : zone.name}>
      <h2>{zone === null ? words.newZone : zone.name}</h2>
      <p className="field-help">{closed ? words.drawHelpClosed : words.drawHelp}</p>
      <Surface
        label={words.paper}
        size={paperOf(plan, [...outlines, corners])}
        plan={plan}
        photoHref={(photo) => setUpApi.photoHref(site, photo)}
        onTap={(point, paper) => stroke({ do: "put", point: meant(point, [corners, ...outlines], paper) })}
      >
        {(paper) => (
          <>
            {others.map(({ id, name, outline }) =>
              outline === undefined ? null : <ZoneShape key={id} outline={outline} name={name} paper={paper} />,
            )}
            <OutlineEdit drawing={drawing} others={outlines} paper={paper} onStroke={stroke} />
          </>
        )}
      </Surface>
      <p className="plan-said" role="status">
        {closed && fault !== null ? (
          <b className="plan-wrong">{words.faults[fault]}</b>
        ) : !closed ? (
          words.cornersSoFar(corners.length)
        ) : (
          <b>{words.encloses(showArea(areaM2(corners), units))}</b>
        )}
      </p>
      <div className="plan-tools">
        <button
          type="button"
          className="button"
          disabled={drawing.past.length === 0}
          onClick={() => stroke({ do: "undo" })}
        >
          {words.undo}
        </button>
        {!closed && (
          <button
            type="button"
            className="button"
            disabled={corners.length < 3}
            onClick={() => stroke({ do: "close" })}
          >
            {words.close}
          </button>
        )}
        {corners.length > 0 && (
          <button type="button" className="button" onClick={() => stroke({ do: "replace", corners: [] })}>
            {words.clear}
          </button>
        )}
      </div>
      {corners.length === 0 && (
        <Rectangle
          onMake={(lengthM, widthM) => stroke({ do: "replace", corners: rectangleBeside(outlines, lengthM, widthM) })}
        />
      )}
      <CornerList drawing={drawing} onStroke={stroke} />
      {faults.outline !== undefined && (
        <p className="field-error" role="alert">
          {faults.outline}
        </p>
      )}
      <ZoneForm draft={draft} outline={corners} sheets={sheets} faults={faults} onChange={setDraft} />
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refused(act.failed)}
        </p>
      )}
      <div className="plan-tools">
        <button type="button" className="button button-main" disabled={act.busy} onClick={() => void save()}>
          {words.save}
        </button>
        <button type="button" className="button" onClick={onCancel}>
          {words.cancel}
        </button>
      </div>
    </section>
  );
}
