// A zone on the paper: its outline and, where there is room, its name.
import { middleOf, type Outline } from "#core/plan/polygon.ts";
import { textWidthPx } from "../../ui/text-width.ts";
import { type Paper, pointsOf } from "./surface.tsx";

interface Props {
  readonly outline: Outline;
  readonly name: string;
  readonly paper: Paper;
  readonly kind?: "still" | "chosen";
}

export function ZoneShape({ outline, name, paper, kind = "still" }: Props) {
  const { point, widthM } = middleOf(outline);
  const wide = textWidthPx(name, "700 14px") * paper.mPerPx;
  return (
    <g>
      <polygon className={`plan-zone plan-zone-${kind}`} points={pointsOf(outline)} />
      {wide < widthM && (
        <text
          className="plan-name"
          x={point.xM}
          y={point.yM}
          fontSize={14 * paper.mPerPx}
          strokeWidth={4 * paper.mPerPx}
        >
          {name}
        </text>
      )}
    </g>
  );
}
