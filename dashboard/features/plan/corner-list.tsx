// The corners of an outline as numbers: what is drawn by finger elsewhere can be typed here, and read out.
import { useEffect, useState } from "react";
import type { PlanPoint } from "#core/plan/polygon.ts";
import { planText } from "../../text/plan.ts";
import { useVoice } from "../../ui/voice.tsx";
import { lengthNumber, lengthSign, mFromTyped } from "../../units/lengths.ts";
import type { Drawing, Stroke } from "./drawing.ts";

interface Props {
  readonly drawing: Drawing;
  readonly onStroke: (stroke: Stroke) => void;
}

function Corner({
  corner,
  label,
  onMove,
}: {
  readonly corner: PlanPoint;
  readonly label: (axis: "x" | "y") => string;
  readonly onMove: (to: PlanPoint) => void;
}) {
  const { units } = useVoice();
  const shown = (m: number) => lengthNumber(m, units);
  const [typed, setTyped] = useState({ x: shown(corner.xM), y: shown(corner.yM) });
  // The corner may also be moved on the paper.
  useEffect(() => setTyped({ x: shown(corner.xM), y: shown(corner.yM) }), [corner.xM, corner.yM, units]);
  const settle = (axis: "x" | "y") => {
    const m = mFromTyped(typed[axis], units);
    const key = axis === "x" ? "xM" : "yM";
    if (m === null || Number.isNaN(m)) setTyped({ ...typed, [axis]: shown(corner[key]) });
    else if (typed[axis] !== shown(corner[key])) onMove({ ...corner, [key]: Math.round(m * 1e6) / 1e6 });
  };
  return (["x", "y"] as const).map((axis) => (
    <input
      key={axis}
      inputMode="decimal"
      aria-label={label(axis)}
      value={typed[axis]}
      onChange={(event) => setTyped({ ...typed, [axis]: event.target.value })}
      onBlur={() => settle(axis)}
      onKeyDown={(event) => {
        if (event.key === "Enter") settle(axis);
      }}
    />
  ));
}

export function CornerList({ drawing, onStroke }: Props) {
  const { text, units } = useVoice();
  const words = planText(text);
  const { corners } = drawing;
  return (
    <details className="plan-corners">
      <summary>{words.corners(corners.length)}</summary>
      <p className="field-help">{words.cornersHelp(lengthSign(units))}</p>
      <ol>
        {corners.map((corner, index) => (
          <li key={index}>
            <b>{index + 1}</b>
            <Corner
              corner={corner}
              label={(axis) => words.cornerAxis(index + 1, axis, lengthSign(units))}
              onMove={(point) => onStroke({ do: "move", index, point })}
            />
            <button
              type="button"
              className="button"
              aria-label={words.cornerAfter(index + 1)}
              onClick={() => onStroke({ do: "insert", index })}
            >
              +
            </button>
            <button
              type="button"
              className="button"
              aria-label={words.cornerOut(index + 1)}
              onClick={() => onStroke({ do: "remove", index })}
            >
              ×
            </button>
          </li>
        ))}
      </ol>
      {!drawing.closed && (
        <button
          type="button"
          className="button"
          onClick={() => {
            const last = corners.at(-1) ?? { xM: 0, yM: 0 };
            onStroke({ do: "put", point: { xM: last.xM + 1, yM: last.yM } });
          }}
        >
          {words.cornerAdd}
        </button>
      )}
    </details>
  );
}
