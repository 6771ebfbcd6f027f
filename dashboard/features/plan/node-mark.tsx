// A probe on the paper: a ring with a cross, broken where it is silent.
import type { PlanPoint } from "#core/plan/polygon.ts";
import type { Paper } from "./surface.tsx";

interface Props {
  readonly at: PlanPoint;
  readonly label: string;
  readonly chosen: boolean;
  readonly silent: boolean;
  readonly paper: Paper;
}

export function NodeMark({ at, label, chosen, silent, paper }: Props) {
  const px = paper.mPerPx;
  const { xM, yM } = at;
  return (
    <g
      className={`plan-node${chosen ? " plan-node-chosen" : ""}${silent ? " plan-node-silent" : ""}`}
      strokeWidth={2.2 * px}
    >
      <title>{label}</title>
      <circle cx={xM} cy={yM} r={8 * px} strokeDasharray={silent ? `${4 * px} ${3.4 * px}` : undefined} />
      <path d={`M${xM - 4 * px} ${yM}h${8 * px}M${xM} ${yM - 4 * px}v${8 * px}`} />
      {chosen && (
        <text x={xM + 12 * px} y={yM + 5 * px} fontSize={14 * px} strokeWidth={4 * px}>
          {label}
        </text>
      )}
    </g>
  );
}
