// The chart of a coat: slab, air and dew point; the margin against its limit; humidity; and the calls, on one axis of time.
import type { ConditionColumnsBody } from "#contract/record-parts.ts";
import { fDifferenceFromK, fFromC } from "#core/units.ts";
import { callPatch, callStrip, type CallWord, type StripPart } from "./call-strip.ts";
import { between, hatch, line } from "./drawn-lines.ts";
import { fixed, type UnitSystem } from "./figures.ts";
import { INK, type Ink, type Paper } from "./paper.ts";
import { hourTicks, roundNumbers, timeAxis, type TimeAxis, type ValueAxis, valueAxis } from "./scale.ts";
import { type Segment, segmentsOf, type Stretch, thinned } from "./segments.ts";
import type { Setting } from "./setting.ts";
import type { Words } from "./words.ts";

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
}

const LABEL = 34;
const BANDS = { temperature: 150, margin: 84, humidity: 50, calls: 15 } as const;
export const CHART_HEIGHT = 390;
const TICK: Ink = { size: 6.6, colour: INK.dim };

function panel(paper: Paper, time: TimeAxis, value: ValueAxis, title: string): void {
  const { doc } = paper;
  doc
    .save()
    .rect(time.left, value.top, time.width, value.height)
    .lineWidth(0.5)
    .strokeColor(INK.line)
    .stroke()
    .restore();
  paper.write(title, time.left + 3, value.top - 10, { size: 7.4, face: "bold" });
}

/** Round numbers of each system on its own side. */
function sides(
  paper: Paper,
  time: TimeAxis,
  value: ValueAxis,
  first: UnitSystem,
  of: { us: (si: number) => number; usUnit: string; siUnit: string },
): void {
  const { low, high } = value;
  const ends = { si: [low, high], us: [of.us(low), of.us(high)] } as const;
  const back = (us: number) => low + ((us - ends.us[0]) / (ends.us[1] - ends.us[0])) * (high - low);
  for (const [side, system] of [
    ["left", first],
    ["right", first === "us" ? "si" : "us"],
  ] as const) {
    const name = system === "us" ? of.usUnit : of.siUnit;
    const x = side === "left" ? time.left - LABEL : time.left + time.width + 3;
    for (const number of roundNumbers(ends[system][0], ends[system][1], value.height / 26)) {
      const y = value.y(system === "us" ? back(number) : number);
      if (side === "left") {
        paper.doc
          .moveTo(time.left, y)
          .lineTo(time.left + time.width, y)
          .lineWidth(0.25)
          .strokeColor(INK.line)
          .stroke();
      }
      paper.write(fixed(number, Number.isInteger(number) ? 0 : 1), x, y - 3.2, {
        ...TICK,
        width: LABEL - 4,
        align: side === "left" ? "right" : "left",
      });
    }
    paper.write(name, x, value.top - 10, { ...TICK, width: LABEL - 4, align: side === "left" ? "right" : "left" });
  }
}

function limitLine(paper: Paper, time: TimeAxis, value: ValueAxis, at: number | null, label: string): void {
  if (at === null || at < value.low || at > value.high) return;
  const y = value.y(at);
  paper.doc
    .save()
    .dash(4, { space: 2.5 })
    .moveTo(time.left, y)
    .lineTo(time.left + time.width, y)
    .lineWidth(0.8)
    .strokeColor(INK.stop)
    .stroke()
    .undash()
    .restore();
  paper.write(label, time.left, y - 8.2, { size: 6.4, colour: INK.stop, width: time.width - 4, align: "right" });
}

/** Draws the chart at the cursor; the caller has made room. */
export function chart(paper: Paper, wish: ChartWish, { words, clock, figures }: Setting): void {
  const { doc } = paper;
  const { conditions, gaps } = wish;
  const time = timeAxis(wish.fromMs, wish.toMs, paper.left + LABEL, paper.width - 2 * LABEL);
  const stepMs = (wish.toMs - wish.fromMs) / (time.width * 1.5);
  const runs = (values: readonly (number | null)[]): Segment[] =>
    segmentsOf(conditions.atMs, values, gaps, wish.fromMs, wish.toMs).map((run) => thinned(run, stepMs));
  const [cold, hot, air, dew] = [conditions.slabColdC, conditions.slabHotC, conditions.airC, conditions.dewPointC].map(
    runs,
  ) as [Segment[], Segment[], Segment[], Segment[]];
  const [margin, humidity] = [runs(conditions.marginK), runs(conditions.rhPct)];
  const shown = [cold, hot, air, dew].flatMap((all) => all.flatMap(({ values }) => values));
  const ends = (values: readonly number[], least: readonly [number, number], pad: number): [number, number] => [
    Math.floor(values.reduce((low, of) => Math.min(low, of), least[0]) - pad),
    Math.ceil(values.reduce((high, of) => Math.max(high, of), least[1]) + pad),
  ];
  const top = paper.y + 26;
  const around = shown.length > 0 ? (shown[0] as number) : 10;
  const temperature = valueAxis(...ends(shown, [around - 1, around + 1], 1), top, BANDS.temperature);
  const marginTop = top + BANDS.temperature + 16;
  const marginAxis = valueAxis(
    ...ends(
      margin.flatMap(({ values }) => values),
      [-1, wish.marginLimitK + 1],
      0.5,
    ),
    marginTop,
    BANDS.margin,
  );
  const humidityTop = marginTop + BANDS.margin + 16;
  const humidityAxis = valueAxis(0, 100, humidityTop, BANDS.humidity);
  const stripTop = humidityTop + BANDS.humidity + 16;
  const foot = stripTop + BANDS.calls;

  const ticks = hourTicks(clock, wish.fromMs, wish.toMs, 14);
  for (const { atMs, hour } of ticks) {
    const x = time.x(atMs);
    doc
      .moveTo(x, top)
      .lineTo(x, foot)
      .lineWidth(hour === 0 ? 0.7 : 0.25)
      .strokeColor(INK.line)
      .stroke();
  }
  for (const { fromMs, toMs, coat } of wish.pours) {
    if (toMs < wish.fromMs || fromMs > wish.toMs) continue;
    const x = time.x(fromMs);
    const width = Math.max(1.2, time.x(toMs) - x);
    doc
      .save()
      .rect(x, top, width, humidityTop + BANDS.humidity - top)
      .fill(INK.wash)
      .restore();
    doc
      .save()
      .rect(x, top - 6, width, 6)
      .fill(INK.pour)
      .restore();
    paper.write(words.chart.pour(coat + 1), x - 40, top - 15, {
      size: 6.6,
      face: "bold",
      colour: INK.pour,
      width: width + 80,
      align: "center",
    });
  }

  // The band that a slab must stay out of: from the dew point up to the margin that the sheet asks for.
  for (const run of dew) between(paper, time, temperature, run, (of) => of + wish.marginLimitK, INK.water);
  panel(paper, time, temperature, words.chart.temperatures);
  sides(paper, time, temperature, figures.first, { us: fFromC, usUnit: "°F", siUnit: "°C" });
  limitLine(paper, time, temperature, wish.slabC[0], words.chart.slabMin);
  limitLine(paper, time, temperature, wish.slabC[1], words.chart.slabMax);
  line(paper, time, temperature, dew, { colour: INK.dew, width: 0.9, dash: [1, 1.4] });
  line(paper, time, temperature, air, { colour: INK.air, width: 0.7, dash: [5, 1.6] });
  line(paper, time, temperature, hot, { colour: INK.slab, width: 0.5 });
  line(paper, time, temperature, cold, { colour: INK.slab, width: 1.3 });

  panel(paper, time, marginAxis, words.chart.margin);
  sides(paper, time, marginAxis, figures.first, { us: fDifferenceFromK, usUnit: "°F", siUnit: "K" });
  doc
    .save()
    .rect(
      time.left,
      marginAxis.y(wish.marginLimitK),
      time.width,
      marginTop + BANDS.margin - marginAxis.y(wish.marginLimitK),
    )
    .clip();
  for (const run of margin) between(paper, time, marginAxis, run, () => wish.marginLimitK, "#e3b7ae");
  doc.restore();
  doc
    .moveTo(time.left, marginAxis.y(0))
    .lineTo(time.left + time.width, marginAxis.y(0))
    .lineWidth(0.6)
    .strokeColor(INK.dew)
    .stroke();
  paper.write(words.chart.dewHere, time.left + 3, marginAxis.y(0) - 7.6, { size: 6.2, colour: INK.dew });
  limitLine(paper, time, marginAxis, wish.marginLimitK, words.chart.marginLimit);
  line(paper, time, marginAxis, margin, { colour: INK.slab, width: 1.1 });

  panel(paper, time, humidityAxis, words.chart.humidity);
  for (const percent of [0, 50, 100])
    paper.write(`${percent} %`, time.left - LABEL, humidityAxis.y(percent) - 3.2, {
      ...TICK,
      width: LABEL - 4,
      align: "right",
    });
  limitLine(paper, time, humidityAxis, wish.rhPct[0], words.chart.rhMin);
  limitLine(paper, time, humidityAxis, wish.rhPct[1], words.chart.rhMax);
  line(paper, time, humidityAxis, humidity, { colour: INK.slab, width: 0.8 });

  for (const gap of gaps) {
    if (gap.toMs <= wish.fromMs || gap.fromMs >= wish.toMs) continue;
    const x = time.x(gap.fromMs);
    const width = Math.max(1, time.x(gap.toMs) - x);
    for (const { top: at, height } of [temperature, marginAxis, humidityAxis])
      hatch(paper, x, at, width, height, "#8c8c84");
    if (width > 16)
      paper.write(words.chart.gap, x, top + 3, { size: 6.4, face: "bold", colour: INK.stop, width, align: "center" });
  }
  for (const { atMs, slabC, marginK } of wish.handReadings) {
    if (atMs < wish.fromMs || atMs > wish.toMs) continue;
    for (const [axis, of] of [
      [temperature, slabC],
      [marginAxis, marginK],
    ] as const) {
      if (of === null || of < axis.low || of > axis.high) continue;
      const [x, y] = [time.x(atMs), axis.y(of)];
      doc
        .moveTo(x - 3, y)
        .lineTo(x + 3, y)
        .moveTo(x, y - 3)
        .lineTo(x, y + 3)
        .lineWidth(1)
        .strokeColor(INK.abrade)
        .stroke();
    }
  }
  if (wish.dewSensitive !== null && wish.dewSensitive.toMs > wish.fromMs && wish.dewSensitive.fromMs < wish.toMs) {
    const [x, end, y] = [time.x(wish.dewSensitive.fromMs), time.x(wish.dewSensitive.toMs), marginTop + 5];
    doc
      .moveTo(x, y + 3)
      .lineTo(x, y)
      .lineTo(end, y)
      .lineTo(end, y + 3)
      .lineWidth(0.8)
      .strokeColor(INK.dew)
      .stroke();
    paper.write(words.chart.dewSensitive, x + 3, y + 1.5, { size: 6.2, colour: INK.dew });
  }
  paper.write(words.chart.calls, time.left + 3, stripTop - 10, { size: 7.4, face: "bold" });
  callStrip(paper, time, wish.calls, stripTop, BANDS.calls);
  for (const atMs of wish.overrides) {
    if (atMs < wish.fromMs || atMs > wish.toMs) continue;
    const x = time.x(atMs);
    doc
      .save()
      .moveTo(x, stripTop - 1)
      .lineTo(x - 3.6, stripTop - 7.5)
      .lineTo(x + 3.6, stripTop - 7.5)
      .closePath()
      .fill(INK.stop)
      .restore();
  }
  let freeFrom = 0;
  for (const { atMs, hour } of ticks) {
    const x = time.x(atMs);
    const label = hour === 0 ? clock.day(atMs).slice(5) : `${String(hour).padStart(2, "0")}:00`;
    if (x - 13 < freeFrom) continue;
    paper.write(label, x - 20, foot + 3, { ...TICK, face: hour === 0 ? "bold" : "plain", width: 40, align: "center" });
    freeFrom = x + 15;
  }
  paper.y = foot + 14;
  key(paper, words);
}

/** What the inks and patterns stand for. */
function key(paper: Paper, words: Words): void {
  const { doc } = paper;
  let x = paper.left;
  const y = paper.y;
  const entry = (label: string, width: number, put: () => void) => {
    put();
    paper.write(label, x + width + 3, y + 1, { size: 6.6, colour: INK.dim });
    x += width + 3 + paper.wide(label, { size: 6.6 }) + 9;
  };
  const stroke = (colour: string, width: number, dash?: readonly [number, number]) => () => {
    doc.save().lineWidth(width).strokeColor(colour);
    if (dash !== undefined) doc.dash(dash[0], { space: dash[1] });
    doc
      .moveTo(x, y + 4)
      .lineTo(x + 16, y + 4)
      .stroke()
      .undash()
      .restore();
  };
  entry(words.chart.cold, 16, stroke(INK.slab, 1.3));
  entry(words.chart.hot, 16, stroke(INK.slab, 0.5));
  entry(words.chart.air, 16, stroke(INK.air, 0.7, [5, 1.6]));
  entry(words.chart.dewPoint, 16, stroke(INK.dew, 0.9, [1, 1.4]));
  entry(
    words.chart.forbidden,
    12,
    () =>
      void doc
        .save()
        .rect(x, y + 0.5, 12, 7)
        .fill(INK.water)
        .restore(),
  );
  entry(words.chart.gap, 12, () => hatch(paper, x, y + 0.5, 12, 7, "#8c8c84", 3));
  entry(
    words.chart.hand,
    6,
    () =>
      void doc
        .moveTo(x, y + 4)
        .lineTo(x + 6, y + 4)
        .moveTo(x + 3, y + 1)
        .lineTo(x + 3, y + 7)
        .lineWidth(1)
        .strokeColor(INK.abrade)
        .stroke(),
  );
  x = paper.left;
  paper.y = y + 11;
  const second = paper.y;
  for (const call of ["pour", "wait", "abrade", "finished"] as const satisfies readonly CallWord[]) {
    callPatch(paper, call, x, second, 16, 7);
    paper.write(words.calls[call], x + 19, second + 0.5, { size: 6.6, colour: INK.dim });
    x += 19 + paper.wide(words.calls[call], { size: 6.6 }) + 9;
  }
  doc
    .save()
    .moveTo(x + 4, second + 7)
    .lineTo(x + 0.4, second + 0.5)
    .lineTo(x + 7.6, second + 0.5)
    .closePath()
    .fill(INK.stop)
    .restore();
  paper.write(words.chart.override, x + 11, second + 0.5, { size: 6.6, colour: INK.dim });
  paper.y = second + 14;
}
