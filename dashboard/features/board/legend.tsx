// What the strips mean, shown and said.
import type { ReactNode } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import { useVoice } from "../../ui/voice.tsx";
import { Basis } from "./basis.tsx";

const WIDTH = 54;
const HEIGHT = 20;
const FADING = [1, 3, 5] as const;
const FADE_PX = (WIDTH - 2) / (FADING.length + 1);

/** What the strips ahead were made from, and what they mean: it comes once the board stands. */
export default function BelowBoard({ zones }: { readonly zones: readonly BoardZoneBody[] }) {
  return (
    <>
      <Basis zones={zones} />
      <Legend />
    </>
  );
}

function Legend() {
  const { text } = useVoice();
  const sample = (kind: string, drawn: ReactNode, said: string) => (
    <li key={kind}>
      <svg width={WIDTH} height={HEIGHT} viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
        {drawn}
      </svg>
      {said}
    </li>
  );
  const box = (fill: string) => <rect x="1" y="1" width={WIDTH - 2} height={HEIGHT - 2} fill={`url(#${fill})`} />;
  return (
    <ul className="legend" aria-label={text.board.legend}>
      {sample(
        "hindsight",
        <g className="bar-finished bar-hindsight">
          {box("fill-finished")}
          <rect className="bar-edge" x="1" y="1" width={WIDTH - 2} height={HEIGHT - 2} />
        </g>,
        text.board.hindsight,
      )}
      {sample(
        "fades",
        <g className="bar-pour">
          {box("fill-pour")}
          {FADING.map((level, index) => (
            <rect
              key={level}
              x={1 + (index + 1) * FADE_PX}
              y="1"
              width={FADE_PX}
              height={HEIGHT - 2}
              fill={`url(#fade-${level})`}
            />
          ))}
          <rect className="bar-edge" x="1" y="1" width={WIDTH - 2} height={HEIGHT - 2} />
        </g>,
        text.board.fades,
      )}
      {sample(
        "blind",
        <rect className="bar-blind" x="1" y="1" width={WIDTH - 2} height={HEIGHT - 2} />,
        text.board.noData,
      )}
      {sample(
        "tide",
        <>
          <rect className="tide-below" y="11" width={WIDTH} height="9" />
          <line className="tide-limit" x2={WIDTH} y1="11" y2="11" />
          <path className="tide-past" d={`M0 5C14 1 20 8 ${WIDTH / 2} 7`} />
          <path className="tide-mid" d={`M${WIDTH / 2} 7S44 16 ${WIDTH} 9`} />
        </>,
        text.board.marginLine,
      )}
    </ul>
  );
}
