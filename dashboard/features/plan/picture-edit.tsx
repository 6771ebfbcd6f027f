// The drawing or photo under the outlines: sent, shown, and brought to scale by two points and their distance.
import { useId, useState } from "react";
import type { PlanBody } from "#contract/plan.ts";
import { distanceM, type Outline, type PlanPoint } from "#core/plan/polygon.ts";
import { metresPerPixel } from "#core/plan/snap.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { planText } from "../../text/plan.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { lengthNumber, lengthSign, mFromTyped, showLength } from "../../units/lengths.ts";
import { paperOf } from "./drawing.ts";
import { pointsOf, Surface } from "./surface.tsx";

interface Props {
  readonly site: string;
  readonly plan: PlanBody | null;
  readonly outlines: readonly Outline[];
  readonly by: string | null;
  readonly onSaved: () => void;
  readonly onCancel: () => void;
}

const round = (m: number) => Math.round(m * 100) / 100;

export function PictureEdit({ site, plan, outlines, by, onSaved, onCancel }: Props) {
  const { text, units } = useVoice();
  const words = planText(text);
  const fileId = useId();
  const act = useAct();
  const paper = paperOf(plan, outlines);
  const [sides, setSides] = useState({
    width: lengthNumber(paper.widthM, units),
    height: lengthNumber(paper.heightM, units),
  });
  const [marks, setMarks] = useState<readonly PlanPoint[]>([]);
  const [apart, setApart] = useState("");
  const picture = plan?.picture ?? null;
  const keep = async (body: PlanBody) => {
    const done = await act.run(() => setUpApi.putPlan(site, body));
    if (done !== null) {
      setMarks([]);
      onSaved();
    }
  };
  const take = async (file: File) => {
    const sent = await act.run(() => setUpApi.sendDrawing(site, file, by));
    if (sent === null) return;
    const { id: photo, widthPx, heightPx } = sent.value;
    const mPerPx = paper.widthM / widthPx;
    await keep({
      ...paper,
      heightM: Math.max(1, round(heightPx * mPerPx)),
      picture: { photo, xM: 0, yM: 0, mPerPx, widthPx, heightPx },
    });
  };
  const apartM = mFromTyped(apart, units);
  const [a, b] = marks;
  const canScale = picture !== null && a !== undefined && b !== undefined && apartM !== null && apartM > 0;
  const scale = () => {
    if (!canScale) return;
    const px = ({ xM, yM }: PlanPoint) => ({
      xPx: (xM - picture.xM) / picture.mPerPx,
      yPx: (yM - picture.yM) / picture.mPerPx,
    });
    const mPerPx = metresPerPixel(px(a), px(b), apartM);
    const side = (points: number) => Math.min(5000, Math.max(1, round(points * mPerPx)));
    void keep({
      ...{ widthM: side(picture.widthPx), heightM: side(picture.heightPx) },
      picture: { ...picture, xM: 0, yM: 0, mPerPx },
    });
  };
  const [widthM, heightM] = [mFromTyped(sides.width, units), mFromTyped(sides.height, units)];
  const good = widthM !== null && heightM !== null && widthM >= 1 && heightM >= 1 && widthM <= 5000 && heightM <= 5000;
  return (
    <section className="plan-edit-room" aria-label={words.pictureTitle}>
      <h2>{words.pictureTitle}</h2>
      {picture === null ? (
        <>
          <p className="field-help">{words.sizeHelp}</p>
          <div className="plan-rectangle">
            <Field
              label={words.sizeWidth}
              unit={lengthSign(units)}
              value={sides.width}
              onType={(width) => setSides({ ...sides, width })}
            />
            <Field
              label={words.sizeHeight}
              unit={lengthSign(units)}
              value={sides.height}
              onType={(height) => setSides({ ...sides, height })}
            />
            <button
              type="button"
              className="button"
              disabled={!good || act.busy}
              onClick={() => good && void keep({ widthM, heightM, picture: null })}
            >
              {words.sizeKeep}
            </button>
          </div>
          {!good && <p className="field-error">{words.faults.paper}</p>}
        </>
      ) : (
        <>
          <p className="field-help">{words.scaleHelp}</p>
          <Surface
            label={words.paper}
            size={paper}
            plan={plan}
            photoHref={(photo) => setUpApi.photoHref(site, photo)}
            onTap={(point) => setMarks(marks.length === 1 ? [...marks, point] : [point])}
          >
            {({ mPerPx }) => (
              <>
                {marks.length === 2 && <polyline className="plan-joint" points={pointsOf(marks)} />}
                {marks.map((point, index) => (
                  <circle key={index} className="plan-corner" cx={point.xM} cy={point.yM} r={7 * mPerPx} />
                ))}
              </>
            )}
          </Surface>
          <p className="plan-said" role="status">
            {a !== undefined && b !== undefined
              ? words.scaleNow(showLength(distanceM(a, b), units))
              : words.scaleTaps(marks.length)}
          </p>
          <div className="plan-rectangle">
            <Field label={words.scaleApart} unit={lengthSign(units)} value={apart} onType={setApart} />
            <button type="button" className="button button-main" disabled={!canScale || act.busy} onClick={scale}>
              {words.scaleSet}
            </button>
          </div>
          {outlines.length > 0 && <p className="plan-warn">{words.scaleWarns}</p>}
        </>
      )}
      <div className="plan-tools">
        <label className="button plan-file" htmlFor={fileId}>
          {picture === null ? words.pictureTake : words.pictureOther}
        </label>
        <input
          id={fileId}
          className="hidden"
          type="file"
          accept="image/*"
          onChange={(event) => {
            const file = event.target.files?.[0];
            event.target.value = "";
            if (file !== undefined) void take(file);
          }}
        />
        {picture !== null && (
          <button
            type="button"
            className="button"
            disabled={act.busy}
            onClick={() => void keep({ ...paper, picture: null })}
          >
            {words.pictureOut}
          </button>
        )}
        <button type="button" className="button" onClick={onCancel}>
          {words.done}
        </button>
      </div>
      <p className="field-help">{words.pictureHelp}</p>
      {act.busy && <p role="status">{words.busy}</p>}
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refused(act.failed)}
        </p>
      )}
    </section>
  );
}
