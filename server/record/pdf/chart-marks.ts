// Marks over the panels of a chart: pours, gaps, hand readings, the time in which dew would harm, overrides and the hours.
import { hatch } from "./drawn-lines.ts";
import { TICK } from "./chart-panels.ts";
import { INK, type Ink, type Paper } from "./paper.ts";
import type { TimeAxis, ValueAxis } from "./scale.ts";
import type { Stretch } from "./segments.ts";
import type { SiteClock } from "./site-clock.ts";
import type { Words } from "./words.ts";

export const GAP_INK = "#8c8c84";
const within = (time: TimeAxis, { fromMs, toMs }: Stretch) => toMs > time.fromMs && fromMs < time.toMs;

/** A bar over the panels for the time in which a coat was laid, and its shade through them. */
export function pours(
  paper: Paper,
  time: TimeAxis,
  all: readonly (Stretch & { readonly coat: number })[],
  [top, bottom]: readonly [number, number],
  words: Words,
): void {
  for (const pour of all.filter((one) => within(time, one))) {
    const x = time.x(pour.fromMs);
    const width = Math.max(1.2, time.x(pour.toMs) - x);
    paper.doc
      .save()
      .rect(x, top, width, bottom - top)
      .fill(INK.wash)
      .restore();
    paper.doc
      .save()
      .rect(x, top - 5, width, 5)
      .fill(INK.pour)
      .restore();
    const ink: Ink = { size: 6.6, face: "bold", colour: INK.pour };
    const label = words.chart.pour(pour.coat + 1);
    const wide = paper.wide(label, ink);
    const middle = Math.min(time.left + time.width - wide, Math.max(time.left, x + width / 2 - wide / 2));
    paper.write(label, middle, top - 13.5, ink);
  }
}

export function gaps(
  paper: Paper,
  time: TimeAxis,
  all: readonly Stretch[],
  panels: readonly ValueAxis[],
  label: string,
): void {
  const ink: Ink = { size: 6.4, face: "bold", colour: INK.stop };
  const wide = paper.wide(label, ink);
  for (const gap of all.filter((one) => within(time, one))) {
    const x = time.x(gap.fromMs);
    const width = Math.max(1, time.x(gap.toMs) - x);
    for (const { top, height } of panels) hatch(paper, x, top, width, height, GAP_INK);
    if (width > wide + 4) paper.write(label, x, (panels[0]?.top ?? 0) + 3, { ...ink, width, align: "center" });
  }
}

export function cross({ doc }: Paper, x: number, y: number): void {
  doc
    .moveTo(x - 3, y)
    .lineTo(x + 3, y)
    .moveTo(x, y - 3)
    .lineTo(x, y + 3)
    .lineWidth(1)
    .strokeColor(INK.abrade)
    .stroke();
}

export function handReading(paper: Paper, time: TimeAxis, value: ValueAxis, atMs: number, of: number | null): void {
  if (atMs < time.fromMs || atMs > time.toMs || of === null || of < value.low || of > value.high) return;
  cross(paper, time.x(atMs), value.y(of));
}

/** A bracket: from the first square metre until the film is past dew. */
export function dewSensitive(
  paper: Paper,
  time: TimeAxis,
  value: ValueAxis,
  span: Stretch | null,
  label: string,
): void {
  if (span === null || !within(time, span)) return;
  const [x, end, y] = [time.x(span.fromMs), time.x(span.toMs), value.top + 4];
  paper.doc
    .moveTo(x, y + 3)
    .lineTo(x, y)
    .lineTo(end, y)
    .lineTo(end, y + 3)
    .lineWidth(0.8)
    .strokeColor(INK.dew)
    .stroke();
  paper.write(label, x + 3, y + 1.5, { size: 6.2, colour: INK.dew });
}

export function pointer({ doc }: Paper, x: number, y: number): void {
  doc
    .save()
    .moveTo(x, y)
    .lineTo(x - 3.6, y - 6.5)
    .lineTo(x + 3.6, y - 6.5)
    .closePath()
    .fill(INK.stop)
    .restore();
}

/** Hours of the site's clock, the day where it begins. A name that would touch its neighbour is left out. */
export function hourNames(
  paper: Paper,
  time: TimeAxis,
  ticks: readonly { readonly atMs: number; readonly hour: number }[],
  clock: SiteClock,
  y: number,
): void {
  let freeFrom = 0;
  for (const { atMs, hour } of ticks) {
    const x = time.x(atMs);
    if (x - 13 < freeFrom) continue;
    const label = hour === 0 ? clock.day(atMs).slice(5) : `${String(hour).padStart(2, "0")}:00`;
    paper.write(label, x - 20, y, { ...TICK, face: hour === 0 ? "bold" : "plain", width: 40, align: "center" });
    freeFrom = x + 15;
  }
}
