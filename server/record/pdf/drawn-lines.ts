// What is drawn inside the panels of a chart: lines, bands, limits and what lies beyond them.
import type { Paper } from "./paper.ts";
import type { TimeAxis, ValueAxis } from "./scale.ts";
import type { Segment } from "./segments.ts";

/** A line of one run of readings; a single reading is a dot. */
export function line(
  { doc }: Paper,
  time: TimeAxis,
  value: ValueAxis,
  segments: readonly Segment[],
  {
    colour,
    width,
    dash,
  }: { readonly colour: string; readonly width: number; readonly dash?: readonly [number, number] },
): void {
  doc.save().lineJoin("round").lineWidth(width).strokeColor(colour).fillColor(colour);
  for (const { atMs, values } of segments) {
    const points = atMs.map((at, index) => [time.x(at), value.y(values[index] as number)] as const);
    const [first, ...rest] = points;
    if (first === undefined) continue;
    if (rest.length === 0) {
      doc.circle(first[0], first[1], Math.max(0.7, width)).fill();
      continue;
    }
    if (dash !== undefined) doc.dash(dash[0], { space: dash[1] });
    doc.moveTo(first[0], first[1]);
    for (const [x, y] of rest) doc.lineTo(x, y);
    doc.stroke();
    if (dash !== undefined) doc.undash();
  }
  doc.restore();
}

/** The area between a run of readings and another line over the same times. */
export function between(
  { doc }: Paper,
  time: TimeAxis,
  value: ValueAxis,
  { atMs, values }: Segment,
  other: (value: number, index: number) => number,
  colour: string,
): void {
  if (atMs.length < 2) return;
  const edge = values.map(
    (of, index) => [time.x(atMs[index] as number), value.y(of), value.y(other(of, index))] as const,
  );
  doc.save();
  const [x0, y0] = edge[0] as readonly [number, number, number];
  doc.moveTo(x0, y0);
  for (const [x, y] of edge.slice(1)) doc.lineTo(x, y);
  for (const [x, , y] of [...edge].reverse()) doc.lineTo(x, y);
  doc.closePath().fill(colour);
  doc.restore();
}

/** Slanted strokes over a rectangle: nothing was heard here. */
export function hatch(
  { doc }: Paper,
  x: number,
  y: number,
  width: number,
  height: number,
  colour: string,
  stepPt = 4,
): void {
  doc.save().rect(x, y, width, height).clip().lineWidth(0.5).strokeColor(colour);
  for (let from = x - height; from < x + width; from += stepPt) doc.moveTo(from, y + height).lineTo(from + height, y);
  doc.stroke().restore();
}
