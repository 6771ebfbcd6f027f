// The chart that explains the call: slab, dew point and the band between where the slab may not be; air and humidity below.
import { Area, ComposedChart, Line, ReferenceLine, Tooltip, XAxis, YAxis } from "recharts";
import { memo } from "react";
import type { Clock } from "../../text/clock.ts";
import type { UnitSystem } from "../../units/show.ts";
import { degreeScale, type Scale } from "../../units/scale.ts";
import { localHours } from "../../units/zone-time.ts";
import { degreeSign } from "../../units/typed.ts";
import type { ChartPoint } from "./chart-data.ts";
import { CHART_LEFT_PX, CHART_RIGHT_PX } from "./lane.tsx";
import { Readout } from "./readout.tsx";

interface Props {
  readonly points: readonly ChartPoint[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly nowMs: number;
  readonly widthPx: number;
  readonly clock: Clock;
  readonly units: UnitSystem;
}

const SLAB_PX = 260;
const AIR_PX = 150;
const tick = { fill: "var(--dim)", fontSize: 13 } as const;
const still = { isAnimationActive: false, connectNulls: false, dot: false, activeDot: false } as const;

function NightChart({ points, fromMs, toMs, nowMs, widthPx, clock, units }: Props) {
  const hours = (toMs - fromMs) / 3_600_000;
  const stepH = [3, 6, 12, 24].find((step) => ((widthPx - CHART_LEFT_PX - CHART_RIGHT_PX) * step) / hours > 62) ?? 24;
  const ticks = localHours(fromMs, toMs, stepH, clock.timezone);
  const x = (
    <XAxis
      tick={tick}
      dataKey="atMs"
      type="number"
      scale="time"
      domain={[fromMs, toMs]}
      allowDataOverflow
      ticks={ticks}
      tickFormatter={clock.tick}
      interval={0}
      height={26}
    />
  );
  const degrees = ({ domain, ticks: marks }: Scale) => (
    <YAxis
      tick={tick}
      yAxisId="degrees"
      width={CHART_LEFT_PX}
      domain={domain}
      ticks={marks}
      interval={0}
      allowDataOverflow
      tickFormatter={(value: number) => `${value} ${degreeSign(units)}`}
    />
  );
  const shared = { width: widthPx, data: [...points], margin: { top: 6, right: CHART_RIGHT_PX, bottom: 0, left: 0 } };
  return (
    <div className="chart-pair" aria-hidden="true">
      <ComposedChart {...shared} height={SLAB_PX} accessibilityLayer={false}>
        {x}
        {degrees(
          degreeScale(
            points.flatMap((point) => [
              point.slab,
              point.dew,
              point.slabAhead,
              point.dewAhead,
              ...(point.forbidden ?? []),
              ...(point.slabFan ?? []),
            ]),
          ),
        )}
        <Area
          yAxisId="degrees"
          dataKey="forbidden"
          className="area-forbidden"
          stroke="none"
          fill="url(#fill-forbidden)"
          {...still}
        />
        <Area
          yAxisId="degrees"
          dataKey="slabFan"
          className="area-fan"
          stroke="none"
          fill="currentColor"
          fillOpacity={0.2}
          {...still}
        />
        <Line yAxisId="degrees" dataKey="dew" className="line-dew" {...still} />
        <Line yAxisId="degrees" dataKey="dewAhead" className="line-dew line-ahead" {...still} />
        <Line yAxisId="degrees" dataKey="slab" className="line-slab" {...still} />
        <Line yAxisId="degrees" dataKey="slabAhead" className="line-slab line-ahead" {...still} />
        <ReferenceLine yAxisId="degrees" x={nowMs} className="chart-now" />
        <Tooltip
          isAnimationActive={false}
          content={({ active, payload }) =>
            active ? <Readout point={(payload[0]?.payload ?? null) as ChartPoint | null} /> : null
          }
        />
      </ComposedChart>
      <ComposedChart {...shared} margin={{ ...shared.margin, right: 0 }} height={AIR_PX} accessibilityLayer={false}>
        {x}
        {degrees(degreeScale(points.flatMap((point) => [point.air, point.airAhead, ...(point.airFan ?? [])])))}
        <YAxis
          tick={tick}
          yAxisId="humidity"
          orientation="right"
          width={CHART_RIGHT_PX}
          domain={[0, 100]}
          ticks={[0, 50, 100]}
          tickFormatter={(value: number) => `${value} %`}
        />
        <Area
          yAxisId="degrees"
          dataKey="airFan"
          className="area-fan"
          stroke="none"
          fill="currentColor"
          fillOpacity={0.2}
          {...still}
        />
        <Line yAxisId="humidity" dataKey="humidity" className="line-humidity" {...still} />
        <Line yAxisId="degrees" dataKey="air" className="line-air" {...still} />
        <Line yAxisId="degrees" dataKey="airAhead" className="line-air line-ahead" {...still} />
        <ReferenceLine yAxisId="degrees" x={nowMs} className="chart-now" />
        <Tooltip
          isAnimationActive={false}
          content={({ active, payload }) =>
            active ? <Readout point={(payload[0]?.payload ?? null) as ChartPoint | null} /> : null
          }
        />
      </ComposedChart>
    </div>
  );
}

/** The rest of the page changes every few seconds; the chart only when what it draws does. */
export default memo(NightChart);
