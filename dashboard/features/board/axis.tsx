// The one time axis that all strips share.
import { localHours } from "../../units/zone-time.ts";
import { letterScale, useSize } from "../../ui/use-size.ts";
import { useVoice } from "../../ui/voice.tsx";
import { spanAround, xOf } from "./geometry.ts";

const ROOM_PX = 66;

export function Axis() {
  const { text, clock, nowMs } = useVoice();
  const size = useSize<HTMLDivElement>(640, 26);
  const scale = letterScale();
  const widthPx = size.widthPx / scale;
  const span = spanAround(nowMs, widthPx);
  const nowX = xOf(nowMs, span);
  const stepH = [3, 6, 12].find((step) => widthPx / (48 / step) > ROOM_PX) ?? 12;
  const ticks = localHours(span.fromMs, span.toMs, stepH, clock.timezone).map((atMs) => ({ atMs, x: xOf(atMs, span) }));
  const shown = ticks.filter(({ x }) => Math.abs(x - nowX) > ROOM_PX * 0.75 && x > 14 && x < widthPx - 14);
  return (
    <div className="axis-strip" ref={size.ref} aria-hidden="true">
      <svg width={size.widthPx} height={26 * scale} viewBox={`0 0 ${widthPx} 26`}>
        {shown.map(({ atMs, x }) => (
          <text
            key={atMs}
            className={localHours(atMs, atMs, 24, clock.timezone).length > 0 ? "tick tick-day" : "tick"}
            x={x}
            y={17}
            textAnchor={x < 26 ? "start" : x > widthPx - 26 ? "end" : "middle"}
          >
            {clock.tick(atMs)}
          </text>
        ))}
        {ticks.map(({ atMs, x }) => (
          <line key={atMs} className="tick-mark" x1={x} x2={x} y1={21} y2={26} />
        ))}
        <text className="tick tick-now" x={nowX} y={17} textAnchor="middle">
          {text.board.now}
        </text>
      </svg>
    </div>
  );
}
