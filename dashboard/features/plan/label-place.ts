// Where the word of a zone stands on the plan: in its middle, or as near to it as the probes leave room.
import { isInside, middleOf, type Outline, type PlanPoint } from "#core/plan/polygon.ts";
import { textWidthPx } from "../../ui/text-width.ts";

interface Label {
  readonly lines: readonly { readonly text: string; readonly sizePx: number; readonly weight: number }[];
  readonly widthPx: number;
}

/** A probe's ring with some air around it. */
const PROBE_PX = 12;
const EDGE_PX = 12;
const SIGN_PX = 24;

/** As much as fits: name and word, the word alone, or nothing but the sign. */
function labelOf(name: string, word: string, roomPx: number): Label {
  const wide = (text: string, sizePx: number, weight: number) => textWidthPx(text, `${weight} ${sizePx}px`);
  const both = [
    { text: word, sizePx: 20, weight: 800 },
    { text: name, sizePx: 14, weight: 400 },
  ];
  for (const lines of [both, both.slice(0, 1)]) {
    const widthPx = Math.max(
      0,
      ...lines.map(({ text, sizePx, weight }, index) => wide(text, sizePx, weight) + (index === 0 ? 30 : 0)),
    );
    if (widthPx + 16 <= roomPx) return { lines, widthPx };
  }
  return { lines: [], widthPx: SIGN_PX };
}

export function labelPlace(
  name: string,
  word: string,
  outline: Outline,
  probes: readonly PlanPoint[],
  mPerPx: number,
): { readonly point: PlanPoint; readonly label: Label; readonly heightPx: number } {
  const { point: middle, widthM } = middleOf(outline);
  const label = labelOf(name, word, widthM / mPerPx);
  const heightPx = label.lines.length === 2 ? 52 : 32;
  const [halfXM, halfYM] = [((label.widthPx + EDGE_PX) / 2) * mPerPx, (heightPx / 2) * mPerPx];
  const airM = PROBE_PX * mPerPx;
  const isFree = ({ xM, yM }: PlanPoint) =>
    probes.every((probe) => Math.abs(probe.xM - xM) > halfXM + airM || Math.abs(probe.yM - yM) > halfYM + airM);
  const fits = ({ xM, yM }: PlanPoint) =>
    [-1, 1].every((x) => [-1, 1].every((y) => isInside(outline, { xM: xM + x * halfXM, yM: yM + y * halfYM })));
  const stepM = halfYM + airM + mPerPx;
  const places = [0, -1, 1, -2, 2].map((steps) => ({ xM: middle.xM, yM: middle.yM + steps * stepM }));
  return { point: places.find((place) => isFree(place) && fits(place)) ?? middle, label, heightPx };
}
