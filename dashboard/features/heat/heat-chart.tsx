// Slab and dew point of the chosen plan against those without heat; the band between may not hold the slab.
import type { HeatChoiceBody } from "#contract/heat-plan.ts";
import { fDifferenceFromK, fFromC } from "#core/units.ts";
import { heatText } from "../../text/heat.ts";
import { showDifference, showTemperature } from "../../units/show.ts";
import { degreeScale } from "../../units/scale.ts";
import { degreeSign } from "../../units/typed.ts";
import { localHours } from "../../units/zone-time.ts";
import { letterScale, useSize } from "../../ui/use-size.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly chosen: HeatChoiceBody;
  readonly cold: HeatChoiceBody;
  /** Margin limit of the coat that governs, K; 0 when none is known. */
  readonly limitK: number;
}

const LEFT_PX = 48;
const TOP_PX = 8;
const PLOT_PX = 190;
const AXIS_PX = 24;
const HOUR_MS = 3_600_000;
const SHOWN_H = 36;

export function HeatChart({ chosen, cold, limitK }: Props) {
  const { text, units, clock } = useVoice();
  const words = heatText(text);
  const size = useSize<HTMLDivElement>(600, 0);
  const scale = letterScale();
  const width = size.widthPx / scale;
  const us = units === "us";
  const degrees = (c: number) => (us ? fFromC(c) : c);
  const fromMs = Date.parse(cold.course.from);
  const stepMs = cold.course.stepS * 1000;
  const count = Math.min(cold.course.slabColdC.length, Math.floor((SHOWN_H * HOUR_MS) / stepMs) + 1);
  const toMs = fromMs + (count - 1) * stepMs;
  const course = (of: HeatChoiceBody, name: "slabColdC" | "dewPointC") => of.course[name].slice(0, count).map(degrees);
  const limit = us ? fDifferenceFromK(limitK) : limitK;
  const lines = {
    slab: course(chosen, "slabColdC"),
    dew: course(chosen, "dewPointC"),
    coldSlab: course(cold, "slabColdC"),
    coldDew: course(cold, "dewPointC"),
  };
  const band = lines.dew.map((dew) => dew + limit);
  const { domain, ticks } = degreeScale([...Object.values(lines).flat(), ...band]);
  const x = (atMs: number) => LEFT_PX + ((atMs - fromMs) / Math.max(1, toMs - fromMs)) * (width - LEFT_PX - 4);
  const y = (value: number) => TOP_PX + (1 - (value - domain[0]) / (domain[1] - domain[0])) * PLOT_PX;
  const points = (values: readonly number[]) =>
    values.map((value, index) => `${x(fromMs + index * stepMs).toFixed(1)} ${y(value).toFixed(1)}`);
  const path = (values: readonly number[]) => `M${points(values).join("L")}`;
  const stepH = [3, 6, 12].find((step) => ((width - LEFT_PX) * step * HOUR_MS) / (toMs - fromMs) > 62) ?? 12;
  const plan = words.plans[chosen.plan];
  const heated = chosen.from !== null;
  const bottom = TOP_PX + PLOT_PX;
  return (
    <figure className="heat-chart">
      <figcaption>{heated ? words.chart.title(plan) : words.chart.alone}</figcaption>
      <div ref={size.ref} className="heat-chart-room">
        <svg
          width={size.widthPx}
          height={(bottom + AXIS_PX) * scale}
          viewBox={`0 0 ${width} ${bottom + AXIS_PX}`}
          role="img"
          aria-label={words.chart.label(
            plan,
            showTemperature(chosen.highestSlabC, units),
            showDifference(chosen.lowestMarginK[1], units),
          )}
        >
          {ticks.map((tick) => (
            <g key={tick}>
              <line className="race-grid" x1={LEFT_PX} x2={width} y1={y(tick)} y2={y(tick)} />
              <text className="race-tick" x={LEFT_PX - 6} y={y(tick) + 4} textAnchor="end">
                {tick} {degreeSign(units)}
              </text>
            </g>
          ))}
          {localHours(fromMs, toMs, stepH, clock.timezone).map((tickMs) => (
            <g key={tickMs}>
              <line className="race-grid" x1={x(tickMs)} x2={x(tickMs)} y1={bottom} y2={bottom + 5} />
              {x(tickMs) < width - 20 && x(tickMs) > LEFT_PX + 14 && (
                <text className="race-tick" x={x(tickMs)} y={bottom + 19} textAnchor="middle">
                  {clock.tick(tickMs)}
                </text>
              )}
            </g>
          ))}
          {limit > 0 && (
            <path
              fill="url(#fill-forbidden)"
              d={`M${points(band).join("L")}L${points(lines.dew).reverse().join("L")}Z`}
            />
          )}
          {heated && <path className="heat-line heat-dew heat-thin" d={path(lines.coldDew)} />}
          {heated && <path className="heat-line heat-slab heat-thin" d={path(lines.coldSlab)} />}
          <path className="heat-line heat-dew" d={path(lines.dew)} />
          <path className="heat-line heat-slab" d={path(lines.slab)} />
        </svg>
      </div>
      <ul className="why-key">
        <Key kind="heat-slab" name={words.chart.slab} />
        <Key kind="heat-dew" name={words.chart.dew} />
        {heated && <Key kind="heat-slab heat-thin" name={words.chart.without} />}
        {limit > 0 && (
          <li>
            <svg width="30" height="14" viewBox="0 0 30 14" aria-hidden="true">
              <rect width="30" height="14" fill="url(#fill-forbidden)" />
            </svg>
            {words.chart.band}
          </li>
        )}
      </ul>
    </figure>
  );
}

function Key({ kind, name }: { readonly kind: string; readonly name: string }) {
  return (
    <li>
      <svg width="30" height="14" viewBox="0 0 30 14" aria-hidden="true">
        <path className={`heat-line ${kind}`} d="M0 7h30" />
      </svg>
      {name}
    </li>
  );
}
