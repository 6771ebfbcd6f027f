// Panels of a chart: frame and name, round numbers of both systems, and a limit with its name.
import { fixed, type UnitSystem } from "./figures.ts";
import { INK, type Ink, type Paper } from "./paper.ts";
import { roundNumbers, type TimeAxis, type ValueAxis } from "./scale.ts";

/** Room for numbers at either side, points. */
export const LABEL = 34;
export const TICK: Ink = { size: 6.6, colour: INK.dim };

/** `lift`: room between frame and name for what stands on the frame. */
export function panel({ doc, write }: Paper, time: TimeAxis, value: ValueAxis, title: string, lift = 0): void {
  doc.rect(time.left, value.top, time.width, value.height).lineWidth(0.5).strokeColor(INK.line).stroke();
  write(title, time.left + 3, value.top - 10 - lift, { size: 7.4, face: "bold" });
}

export interface Sides {
  readonly us: (si: number) => number;
  readonly usUnit: string;
  readonly siUnit: string;
}

/** Round numbers of each system on its own side, the reader's own at the left with lines across. */
export function sides(
  paper: Paper,
  time: TimeAxis,
  value: ValueAxis,
  first: UnitSystem,
  { us, usUnit, siUnit }: Sides,
): void {
  const { low, high } = value;
  const [usLow, usHigh] = [us(low), us(high)];
  const siOf = (number: number) => low + ((number - usLow) / (usHigh - usLow)) * (high - low);
  for (const [side, system] of [
    ["left", first],
    ["right", first === "us" ? "si" : "us"],
  ] as const) {
    const isUs = system === "us";
    const ink: Ink = { ...TICK, width: LABEL - 4, align: side === "left" ? "right" : "left" };
    const x = side === "left" ? time.left - LABEL : time.left + time.width + 4;
    for (const number of roundNumbers(isUs ? usLow : low, isUs ? usHigh : high, value.height / 22)) {
      const y = value.y(isUs ? siOf(number) : number);
      if (side === "left")
        paper.doc
          .moveTo(time.left, y)
          .lineTo(time.left + time.width, y)
          .lineWidth(0.25)
          .strokeColor(INK.grid)
          .stroke();
      if (y > value.top + 2) paper.write(fixed(number, Number.isInteger(number) ? 0 : 1), x, y - 3.2, ink);
    }
    paper.write(isUs ? usUnit : siUnit, x, value.top - 9, ink);
  }
}

export interface Limit {
  readonly at: number | null;
  readonly label: string;
}

export function limitLine({ doc }: Paper, time: TimeAxis, value: ValueAxis, { at }: Limit): void {
  if (at === null || at < value.low || at > value.high) return;
  const y = value.y(at);
  doc
    .save()
    .dash(4, { space: 2.5 })
    .moveTo(time.left, y)
    .lineTo(time.left + time.width, y);
  doc.lineWidth(0.8).strokeColor(INK.stop).stroke().undash().restore();
}

/** Name of a limit over whatever lies there, so that it can be read. */
export function limitName(paper: Paper, time: TimeAxis, value: ValueAxis, { at, label }: Limit): void {
  if (at === null || at < value.low || at > value.high) return;
  const ink: Ink = { size: 6.4, colour: INK.stop };
  const width = paper.wide(label, ink);
  const x = time.left + time.width - width - 3;
  const y = value.y(at) - 8.4;
  paper.doc
    .save()
    .fillOpacity(0.82)
    .rect(x - 2, y - 0.6, width + 4, 7.4)
    .fill(INK.paper)
    .restore();
  paper.write(label, x, y, ink);
}
