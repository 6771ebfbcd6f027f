// The calls as a strip: each told by its pattern as well as by its ink, so that a grey copy says the same.
import { INK, type Paper } from "./paper.ts";
import type { TimeAxis } from "./scale.ts";

export type CallWord = "pour" | "wait" | "abrade" | "finished";
export interface StripPart {
  readonly fromMs: number;
  readonly toMs: number;
  readonly call: CallWord;
}

const ANGLES: Readonly<Record<"wait" | "abrade", readonly number[]>> = { wait: [0.7], abrade: [0.7, -0.7] };

function strokes(
  { doc }: Paper,
  x: number,
  y: number,
  width: number,
  height: number,
  lean: number,
  stepPt: number,
): void {
  const reach = Math.abs(lean) * height;
  for (let from = x - reach; from < x + width + reach; from += stepPt) {
    doc.moveTo(from, y + height).lineTo(from + lean * height, y);
  }
  doc.stroke();
}

/** One piece of the strip, also as the key to it. */
export function callPatch(paper: Paper, call: CallWord, x: number, y: number, width: number, height: number): void {
  if (width <= 0) return;
  const { doc } = paper;
  const colour = INK[call];
  doc.save().rect(x, y, width, height).clip();
  if (call === "pour") doc.rect(x, y, width, height).fill(colour);
  else if (call === "finished") {
    doc.fillColor(colour);
    for (let row = 0; row * 3.4 < height; row += 1)
      for (let at = x + (row % 2) * 1.7 + 1; at < x + width; at += 3.4) doc.circle(at, y + row * 3.4 + 1.5, 0.75);
    doc.fill();
  } else {
    doc.lineWidth(call === "wait" ? 1.5 : 0.8).strokeColor(colour);
    for (const lean of ANGLES[call]) strokes(paper, x, y, width, height, lean, call === "wait" ? 4 : 3.2);
  }
  doc.restore();
  doc.save().rect(x, y, width, height).lineWidth(0.5).strokeColor(colour).stroke().restore();
}

export function callStrip(paper: Paper, time: TimeAxis, parts: readonly StripPart[], y: number, height: number): void {
  paper.doc.save().rect(time.left, y, time.width, height).lineWidth(0.4).strokeColor(INK.line).stroke().restore();
  for (const { fromMs, toMs, call } of parts) {
    if (toMs <= time.fromMs || fromMs >= time.toMs) continue;
    const x = time.x(fromMs);
    callPatch(paper, call, x, y, time.x(toMs) - x, height);
  }
}
