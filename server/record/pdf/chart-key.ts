// What the inks and patterns of a chart stand for.
import { callPatch } from "./call-strip.ts";
import { cross, GAP_INK, pointer } from "./chart-marks.ts";
import { hatch } from "./drawn-lines.ts";
import { INK, type Ink, type Paper } from "./paper.ts";
import type { Words } from "./words.ts";

const NAME: Ink = { size: 6.6, colour: INK.dim };
export const KEY_HEIGHT = 25;

export function chartKey(paper: Paper, { chart, calls }: Words): void {
  const { doc } = paper;
  let x = paper.left;
  let y = paper.y;
  const entry = (label: string, width: number, put: () => void) => {
    put();
    paper.write(label, x + width + 3, y + 0.8, NAME);
    x += width + 12 + paper.wide(label, NAME);
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
  entry(chart.cold, 16, stroke(INK.slab, 1.3));
  entry(chart.hot, 16, stroke(INK.slab, 0.5));
  entry(chart.air, 16, stroke(INK.air, 0.7, [5, 1.6]));
  entry(chart.dewPoint, 16, stroke(INK.dew, 0.9, [1, 1.4]));
  entry(
    chart.forbidden,
    12,
    () =>
      void doc
        .save()
        .rect(x, y + 0.5, 12, 7)
        .fill(INK.water)
        .restore(),
  );
  entry(chart.gap, 12, () => hatch(paper, x, y + 0.5, 12, 7, GAP_INK, 3));
  entry(chart.hand, 6, () => cross(paper, x + 3, y + 4));
  [x, y] = [paper.left, y + 11];
  for (const call of ["pour", "wait", "abrade", "finished"] as const)
    entry(calls[call], 16, () => callPatch(paper, call, x, y, 16, 7));
  entry(chart.override, 8, () => pointer(paper, x + 4, y + 7));
  paper.y += KEY_HEIGHT;
}
