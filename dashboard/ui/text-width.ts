// How wide a short text is drawn, so that a label is shown only where it fits.

const known = new Map<string, number>();
const pen = typeof document === "undefined" ? null : document.createElement("canvas").getContext("2d");

/** Width in CSS pixels of `text` in the face of the page; `font` is weight and size, as "700 13px". */
export function textWidthPx(text: string, font: string): number {
  const key = `${font}|${text}`;
  let widthPx = known.get(key);
  if (widthPx === undefined) {
    if (pen === null) return text.length * 8;
    pen.font = `${font} ${getComputedStyle(document.body).fontFamily}`;
    widthPx = pen.measureText(text).width;
    if (known.size > 500) known.clear();
    known.set(key, widthPx);
  }
  return widthPx;
}
