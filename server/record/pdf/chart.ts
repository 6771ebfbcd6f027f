// The chart of a coat: slab, air and dew point; the margin against its limit; humidity; and the calls, on one axis of time.
import type { ConditionColumnsBody } from "#contract/record-parts.ts";
import { fDifferenceFromK, fFromC } from "#core/units.ts";
import { callStrip, type StripPart } from "./call-strip.ts";
import { chartKey, KEY_HEIGHT } from "./chart-key.ts";
import { dewSensitive, gaps, handReading, hourNames, pointer, pours } from "./chart-marks.ts";
import { LABEL, type Limit, limitLine, limitName, panel, sides, TICK } from "./chart-panels.ts";
import { between, line } from "./drawn-lines.ts";
import { INK, type Paper } from "./paper.ts";
import { hourTicks, timeAxis, valueAxis } from "./scale.ts";
import { type Segment, segmentsOf, type Stretch, thinned } from "./segments.ts";
import type { Setting } from "./setting.ts";

export interface ChartWish {
  readonly fromMs: number;
  readonly toMs: number;
  readonly conditions: ConditionColumnsBody;
  readonly gaps: readonly Stretch[];
  readonly calls: readonly StripPart[];
  readonly pours: readonly (Stretch & { readonly coat: number })[];
  /** From the first square metre until past dew. */
  readonly dewSensitive: Stretch | null;
  readonly overrides: readonly number[];
  readonly handReadings: readonly {
    readonly atMs: number;
    readonly slabC: number | null;
    readonly marginK: number | null;
  }[];
  readonly marginLimitK: number;
  readonly slabC: readonly [number | null, number | null];
  readonly rhPct: readonly [number | null, number | null];
  /** 1 fills half a page. */
  readonly scale: number;
  readonly withKey: boolean;
}

const HEIGHTS = { temperature: 150, margin: 84, humidity: 50 } as const;
const STRIP = 15;
const HEAD = 32;
const BETWEEN = 16;
const FOOT = 16;

/** Points of a chart that do not grow with its scale. */
const FIXED = HEAD + 3 * BETWEEN + STRIP + FOOT;
const GROWING = HEIGHTS.temperature + HEIGHTS.margin + HEIGHTS.humidity;

export function chartHeight({ scale, withKey }: Pick<ChartWish, "scale" | "withKey">): number {
  return FIXED + GROWING * scale + (withKey ? KEY_HEIGHT : 0);
}

/** The scale at which two charts, one with its key, fill so many points. */
export function scaleOfTwo(heightPt: number): number {
  return Math.min(1, (heightPt - 2 * FIXED - KEY_HEIGHT) / (2 * GROWING));
}

/** Whole numbers around all values, and around what must be seen beside them. */
function ends(values: readonly number[], least: readonly [number, number], pad: number): readonly [number, number] {
  const low = values.reduce((so, of) => Math.min(so, of), least[0]);
  const high = values.reduce((so, of) => Math.max(so, of), least[1]);
  return [Math.floor(low - pad), Math.ceil(high + pad)];
}

const valuesOf = (...all: readonly (readonly Segment[])[]) => all.flatMap((of) => of.flatMap(({ values }) => values));

/** Draws the chart at the cursor; the caller has made room. */
export function chart(paper: Paper, wish: ChartWish, { words, clock, figures }: Setting): void {
  const { doc } = paper;
  const { conditions, marginLimitK, scale } = wish;
  const names = words.chart;
  const time = timeAxis(wish.fromMs, wish.toMs, paper.left + LABEL, paper.width - 2 * LABEL);
  const stepMs = (wish.toMs - wish.fromMs) / (time.width * 1.5);
  const runs = (values: readonly (number | null)[]): Segment[] =>
    segmentsOf(conditions.atMs, values, wish.gaps, wish.fromMs, wish.toMs).map((run) => thinned(run, stepMs));
  const cold = runs(conditions.slabColdC);
  const hot = runs(conditions.slabHotC);
  const air = runs(conditions.airC);
  const dew = runs(conditions.dewPointC);
  const margin = runs(conditions.marginK);
  const humidity = runs(conditions.rhPct);

  const shown = valuesOf(cold, hot, air, dew);
  const around = shown[0] ?? 10;
  const top = paper.y + HEAD;
  const warmth = valueAxis(...ends(shown, [around - 1, around + 1], 1), top, HEIGHTS.temperature * scale);
  const marginTop = top + warmth.height + BETWEEN;
  const above = valueAxis(...ends(valuesOf(margin), [-1, marginLimitK + 1], 0.5), marginTop, HEIGHTS.margin * scale);
  const damp = valueAxis(0, 100, marginTop + above.height + BETWEEN, HEIGHTS.humidity * scale);
  const stripTop = damp.top + damp.height + BETWEEN;
  const limits: readonly (readonly [typeof warmth, Limit])[] = [
    [warmth, { at: wish.slabC[0], label: names.slabMin }],
    [warmth, { at: wish.slabC[1], label: names.slabMax }],
    [above, { at: marginLimitK, label: names.marginLimit }],
    [damp, { at: wish.rhPct[0], label: names.rhMin }],
    [damp, { at: wish.rhPct[1], label: names.rhMax }],
  ];

  pours(paper, time, wish.pours, [top, damp.top + damp.height], words);
  // The band that a slab must stay out of: from the dew point up to the margin that the sheet asks for.
  for (const run of dew) between(paper, time, warmth, run, (of) => of + marginLimitK, INK.water);
  // What of the margin lies below its limit.
  const limitY = above.y(marginLimitK);
  doc
    .save()
    .rect(time.left, limitY, time.width, above.top + above.height - limitY)
    .clip();
  for (const run of margin) between(paper, time, above, run, () => marginLimitK, INK.below);
  doc.restore();

  const ticks = hourTicks(clock, wish.fromMs, wish.toMs, 14);
  for (const { atMs, hour } of ticks) {
    const x = time.x(atMs);
    doc
      .moveTo(x, top)
      .lineTo(x, stripTop + STRIP)
      .lineWidth(hour === 0 ? 0.8 : 0.25)
      .strokeColor(INK.grid)
      .stroke();
  }
  panel(paper, time, warmth, names.temperatures, 13);
  sides(paper, time, warmth, figures.first, { us: fFromC, usUnit: "°F", siUnit: "°C" });
  panel(paper, time, above, names.margin);
  sides(paper, time, above, figures.first, { us: fDifferenceFromK, usUnit: "°F", siUnit: "K" });
  panel(paper, time, damp, names.humidity);
  for (const percent of [0, 50, 100])
    paper.write(`${percent} %`, time.left - LABEL, damp.y(percent) - 3.2, {
      ...TICK,
      width: LABEL - 4,
      align: "right",
    });
  doc
    .moveTo(time.left, above.y(0))
    .lineTo(time.left + time.width, above.y(0))
    .lineWidth(0.6)
    .strokeColor(INK.dew)
    .stroke();
  paper.write(names.dewHere, time.left + 3, above.y(0) + 1.6, { size: 6.2, colour: INK.dew });
  for (const [value, limit] of limits) limitLine(paper, time, value, limit);

  line(paper, time, warmth, dew, { colour: INK.dew, width: 0.9, dash: [1, 1.4] });
  line(paper, time, warmth, air, { colour: INK.air, width: 0.7, dash: [5, 1.6] });
  line(paper, time, warmth, hot, { colour: INK.slab, width: 0.5 });
  line(paper, time, warmth, cold, { colour: INK.slab, width: 1.3 });
  line(paper, time, above, margin, { colour: INK.slab, width: 1.1 });
  line(paper, time, damp, humidity, { colour: INK.slab, width: 0.8 });

  gaps(paper, time, wish.gaps, [warmth, above, damp], names.gap);
  for (const { atMs, slabC, marginK } of wish.handReadings) {
    handReading(paper, time, warmth, atMs, slabC);
    handReading(paper, time, above, atMs, marginK);
  }
  dewSensitive(paper, time, above, wish.dewSensitive, names.dewSensitive);
  for (const [value, limit] of limits) limitName(paper, time, value, limit);

  paper.write(names.calls, paper.left - 12, stripTop + 4, { ...TICK, face: "bold", width: LABEL + 8, align: "right" });
  callStrip(paper, time, wish.calls, stripTop, STRIP);
  for (const atMs of wish.overrides)
    if (atMs >= wish.fromMs && atMs <= wish.toMs) pointer(paper, time.x(atMs), stripTop - 1);
  hourNames(paper, time, ticks, clock, stripTop + STRIP + 3);
  paper.y = stripTop + STRIP + FOOT;
  if (wish.withKey) chartKey(paper, words);
}
