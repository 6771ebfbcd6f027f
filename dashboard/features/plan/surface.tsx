// The sheet of paper: grid, picture, outlines, and whatever a page lays over them. In metres; it is zoomed, never stretched.
import { type ReactNode, useRef, useState } from "react";
import type { PlanBody } from "#contract/plan.ts";
import type { PlanPoint } from "#core/plan/polygon.ts";
import { gridM } from "#core/plan/snap.ts";
import { planText } from "../../text/plan.ts";
import { useSize } from "../../ui/use-size.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showLength } from "../../units/lengths.ts";
import type { View } from "./drawing.ts";
import "./plan.css";

/** What the parts on the paper need to draw and to feel at their right size. */
export interface Paper {
  readonly widthM: number;
  readonly heightM: number;
  readonly gridM: number;
  /** m of the floor in one pixel of the screen. */
  readonly mPerPx: number;
  /** The place of the floor under a pointer. */
  readonly at: (event: { readonly clientX: number; readonly clientY: number }) => PlanPoint | null;
}

interface Props {
  readonly label: string;
  readonly size: View;
  readonly plan: PlanBody | null;
  readonly photoHref: (photo: string) => string;
  /** Without it the grid is left out: nobody draws. */
  readonly onTap?: ((point: PlanPoint, paper: Paper) => void) | undefined;
  readonly children: (paper: Paper) => ReactNode;
}

const ZOOMS = [1, 1.6, 2.5, 4] as const;
/** Share of the screen's height that the paper takes at most; plan.css says the same. */
const HIGHEST = 0.76;

function Grid({
  widthM,
  heightM,
  stepM,
}: {
  readonly widthM: number;
  readonly heightM: number;
  readonly stepM: number;
}) {
  const lines = (lengthM: number) => Array.from({ length: Math.floor(lengthM / stepM) + 1 }, (_, index) => index);
  const kind = (index: number) => (index % 5 === 0 ? "plan-grid plan-grid-fifth" : "plan-grid");
  return (
    <g aria-hidden="true">
      {lines(widthM).map((index) => (
        <line key={`x${index}`} className={kind(index)} x1={index * stepM} x2={index * stepM} y1={0} y2={heightM} />
      ))}
      {lines(heightM).map((index) => (
        <line key={`y${index}`} className={kind(index)} y1={index * stepM} y2={index * stepM} x1={0} x2={widthM} />
      ))}
    </g>
  );
}

export function Surface({ label, size, plan, photoHref, onTap, children }: Props) {
  const { text, units } = useVoice();
  const words = planText(text);
  const frame = useSize<HTMLDivElement>(360, 300);
  const svg = useRef<SVGSVGElement>(null);
  const [zoom, setZoom] = useState(0);
  const { xM = 0, yM = 0, widthM, heightM } = size;
  // At first all of it is seen; who wants more of it near zooms.
  const wholePx = Math.min(frame.widthPx - 4, (globalThis.innerHeight * HIGHEST * widthM) / heightM);
  const widthPx = Math.round(wholePx * (ZOOMS[zoom] ?? 1));
  const mPerPx = widthM / widthPx;
  const stepM = gridM(widthM / (ZOOMS[zoom] ?? 1), units);
  const paper: Paper = {
    widthM,
    heightM,
    gridM: stepM,
    mPerPx,
    at({ clientX, clientY }) {
      const box = svg.current?.getBoundingClientRect();
      return box === undefined || box.width === 0
        ? null
        : {
            xM: xM + ((clientX - box.left) / box.width) * widthM,
            yM: yM + ((clientY - box.top) / box.height) * heightM,
          };
    },
  };
  const picture = plan?.picture ?? null;
  return (
    <div className="plan-frame">
      <div
        className="plan-scroll"
        ref={frame.ref}
        tabIndex={zoom === 0 ? undefined : 0}
        aria-label={label}
        role="group"
      >
        <svg
          ref={svg}
          className={onTap === undefined ? "plan-paper" : "plan-paper plan-drawn"}
          width={widthPx}
          height={Math.round(heightM / mPerPx)}
          viewBox={`${xM} ${yM} ${widthM} ${heightM}`}
          onClick={(event) => {
            const point = paper.at(event);
            if (point !== null) onTap?.(point, paper);
          }}
        >
          {picture !== null && (
            <image
              className="plan-picture"
              href={photoHref(picture.photo)}
              x={picture.xM}
              y={picture.yM}
              width={picture.widthPx * picture.mPerPx}
              height={picture.heightPx * picture.mPerPx}
              preserveAspectRatio="none"
            />
          )}
          {onTap !== undefined && <Grid widthM={widthM} heightM={heightM} stepM={stepM} />}
          {children(paper)}
        </svg>
      </div>
      <div className="plan-zoom">
        <button
          type="button"
          className="button"
          aria-label={words.zoomOut}
          disabled={zoom === 0}
          onClick={() => setZoom(zoom - 1)}
        >
          −
        </button>
        <button
          type="button"
          className="button"
          aria-label={words.zoomIn}
          disabled={zoom === ZOOMS.length - 1}
          onClick={() => setZoom(zoom + 1)}
        >
          +
        </button>
        <p>
          {onTap === undefined
            ? words.size(showLength(widthM, units), showLength(heightM, units))
            : words.grid(showLength(stepM, units))}
        </p>
      </div>
    </div>
  );
}

export const pointsOf = (corners: readonly PlanPoint[]) => corners.map(({ xM, yM }) => `${xM},${yM}`).join(" ");
