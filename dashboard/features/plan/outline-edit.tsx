// The outline that is being drawn, on the paper: its edges, and a handle on every corner for finger, mouse and arrow keys.
import { type KeyboardEvent, type PointerEvent, useRef } from "react";
import type { Outline, PlanPoint } from "#core/plan/polygon.ts";
import { onGridOf, snapped } from "#core/plan/snap.ts";
import { planText } from "../../text/plan.ts";
import { useVoice } from "../../ui/voice.tsx";
import type { Drawing, Stroke } from "./drawing.ts";
import { type Paper, pointsOf } from "./surface.tsx";

/** Half of what a glove needs, px. */
const REACH_PX = 26;
const ARROWS: Readonly<Record<string, readonly [x: number, y: number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** Where a tap on the paper is meant to be. */
export function meant(tap: PlanPoint, others: readonly Outline[], paper: Paper): PlanPoint {
  return snapped(tap, others, paper.gridM, Math.min(14 * paper.mPerPx, paper.gridM));
}

interface Props {
  readonly drawing: Drawing;
  readonly others: readonly Outline[];
  readonly paper: Paper;
  readonly onStroke: (stroke: Stroke) => void;
}

export function OutlineEdit({ drawing, others, paper, onStroke }: Props) {
  const { text } = useVoice();
  const words = planText(text);
  const dragged = useRef<{ readonly index: number; readonly moved: boolean } | null>(null);
  const { corners, closed } = drawing;
  const down = (index: number) => (event: PointerEvent<SVGCircleElement>) => {
    event.currentTarget.setPointerCapture(event.pointerId);
    dragged.current = { index, moved: false };
  };
  const move = (event: PointerEvent<SVGCircleElement>) => {
    const point = paper.at(event);
    if (dragged.current === null || point === null) return;
    const to = meant(point, others, paper);
    const from = corners[dragged.current.index];
    if (from === undefined || (from.xM === to.xM && from.yM === to.yM)) return;
    onStroke({ do: dragged.current.moved ? "drag" : "move", index: dragged.current.index, point: to });
    dragged.current = { ...dragged.current, moved: true };
  };
  const key = (index: number) => (event: KeyboardEvent) => {
    const corner = corners[index];
    const arrow = ARROWS[event.key];
    if (corner === undefined) return;
    if (arrow !== undefined) {
      const [x, y] = arrow;
      const point = onGridOf({ xM: corner.xM + x * paper.gridM, yM: corner.yM + y * paper.gridM }, paper.gridM);
      onStroke({ do: "move", index, point });
    } else if (event.key === "Delete" || event.key === "Backspace") onStroke({ do: "remove", index });
    else if ((event.key === "Enter" || event.key === " ") && index === 0 && !closed) onStroke({ do: "close" });
    else return;
    event.preventDefault();
  };
  return (
    <g>
      {closed ? (
        <polygon className="plan-edit" points={pointsOf(corners)} />
      ) : (
        <polyline className="plan-edit" points={pointsOf(corners)} />
      )}
      {corners.map((corner, index) => (
        <g key={index}>
          <circle className="plan-corner" cx={corner.xM} cy={corner.yM} r={7 * paper.mPerPx} />
          <text
            className="plan-corner-number"
            x={corner.xM + 10 * paper.mPerPx}
            y={corner.yM - 10 * paper.mPerPx}
            fontSize={15 * paper.mPerPx}
            strokeWidth={4 * paper.mPerPx}
          >
            {index + 1}
          </text>
          <circle
            className="plan-handle"
            cx={corner.xM}
            cy={corner.yM}
            r={REACH_PX * paper.mPerPx}
            tabIndex={0}
            role="button"
            aria-label={words.handle(index + 1, index === 0 && !closed)}
            onPointerDown={down(index)}
            onPointerMove={move}
            onPointerUp={() => (dragged.current = null)}
            onPointerCancel={() => (dragged.current = null)}
            onClick={(event) => {
              event.stopPropagation();
              if (index === 0) onStroke({ do: "close" });
            }}
            onKeyDown={key(index)}
          />
        </g>
      ))}
    </g>
  );
}
