// The frame of the chart: how far back, the lane, the drawing once its code has come, and what the lines are.
import { lazy, Suspense, useMemo } from "react";
import type { BoardZoneBody, SeriesBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import { aheadText } from "../../text/ahead.ts";
import { basisWords } from "../../text/sentence.ts";
import { zoneText } from "../../text/zone.ts";
import { Boundary } from "../../ui/boundary.tsx";
import { useSize } from "../../ui/use-size.ts";
import { useVoice } from "../../ui/voice.tsx";
import { chartPoints } from "./chart-data.ts";
import { Lane } from "./lane.tsx";

const NightChart = lazy(() => import("./night-chart.tsx"));
const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
export const RANGES_H = { day: 24, three: 72, week: 168 } as const;
export type Range = keyof typeof RANGES_H;

interface Props {
  readonly item: BoardZoneBody;
  readonly entries: readonly EntryBody[];
  readonly series: SeriesBody | null;
  readonly failed: boolean;
  readonly range: Range;
  readonly onRange: (range: Range) => void;
}

export function WhyChart({ item, entries, series, failed, range, onRange }: Props) {
  const voice = useVoice();
  const { text, nowMs, units, clock } = voice;
  const { ref, widthPx } = useSize<HTMLDivElement>(640, 0);
  const aheadH = item.outlook === null ? 3 : widthPx < 600 ? 24 : 36;
  // Drawn anew once a minute: a phone has better things to do.
  const drawnMs = Math.floor(nowMs / MINUTE_MS) * MINUTE_MS;
  const fromMs = drawnMs - RANGES_H[range] * HOUR_MS;
  const toMs = drawnMs + aheadH * HOUR_MS;
  const limitK = item.marginLimitK ?? 0;
  const points = useMemo(
    () =>
      chartPoints(series, item.outlook, limitK, units).filter((point) => point.atMs >= fromMs && point.atMs <= toMs),
    [series, item.outlook, limitK, units, fromMs, toMs],
  );
  return (
    <section className="why" aria-label={zoneText(text).chart}>
      <div className="why-head">
        <h2>{zoneText(text).chart}</h2>
        <div className="why-ranges" role="group" aria-label={zoneText(text).range}>
          {(Object.keys(RANGES_H) as Range[]).map((one) => (
            <button key={one} type="button" aria-pressed={one === range} onClick={() => onRange(one)}>
              {zoneText(text).ranges[one]}
            </button>
          ))}
        </div>
      </div>
      <p className="why-note why-help">{aheadText(text).helps.chart}</p>
      <div className="why-room" ref={ref}>
        <Lane item={item} entries={entries} fromMs={fromMs} toMs={toMs} widthPx={widthPx} />
        <Boundary instead={<p className="why-wait">{zoneText(text).noChart}</p>}>
          <Suspense fallback={<p className="why-wait">{zoneText(text).chartLoading}</p>}>
            <NightChart
              points={points}
              fromMs={fromMs}
              toMs={toMs}
              nowMs={drawnMs}
              widthPx={widthPx}
              clock={clock}
              units={units}
            />
          </Suspense>
        </Boundary>
      </div>
      <ul className="why-key">
        <Key kind="slab" name={zoneText(text).slab} />
        <Key kind="dew" name={zoneText(text).dew} />
        <Key kind="forbidden" name={zoneText(text).forbidden} />
        <Key kind="fan" name={zoneText(text).fan} />
        <Key kind="air" name={zoneText(text).air} />
        <Key kind="humidity" name={zoneText(text).humidity} />
      </ul>
      {failed && series === null && <p className="why-note">{zoneText(text).noSeries}</p>}
      <p className="why-note">
        {item.outlook === null
          ? zoneText(text).noOutlook
          : `${zoneText(text).basis}: ${basisWords(item.outlook, voice)}.`}
      </p>
    </section>
  );
}

function Key({ kind, name }: { readonly kind: string; readonly name: string }) {
  return (
    <li>
      <svg width="30" height="14" viewBox="0 0 30 14" aria-hidden="true">
        {kind === "forbidden" ? (
          <rect width="30" height="14" fill="url(#fill-forbidden)" className="area-forbidden" />
        ) : kind === "fan" ? (
          <rect width="30" height="14" fill="currentColor" opacity="0.2" />
        ) : (
          <g className={`line-${kind}`}>
            <path d="M0 7h30" />
          </g>
        )}
      </svg>
      {name}
    </li>
  );
}
