// A PDF as its reader sees it: text by pdftotext, pages by pdfinfo (poppler), and the strokes of its content.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inflateSync } from "node:zlib";

function withFile<T>(bytes: Uint8Array, use: (path: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-pdf-"));
  try {
    const path = join(folder, "page.pdf");
    writeFileSync(path, bytes);
    return use(path);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Text of each page, lines as they stand. */
export function pdfPages(bytes: Uint8Array): string[] {
  const text = withFile(bytes, (path) => execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" }));
  return text.split("\f").slice(0, -1);
}

/** Text in one line, so that a sentence is found however it was broken. */
export function pdfText(bytes: Uint8Array): string {
  const text = withFile(bytes, (path) => execFileSync("pdftotext", [path, "-"], { encoding: "utf8" }));
  return text.replace(/[\s\u00a0]+/g, " ");
}

export function pdfInfo(bytes: Uint8Array): Readonly<Record<string, string>> {
  const text = withFile(bytes, (path) => execFileSync("pdfinfo", ["-isodates", path], { encoding: "utf8" }));
  return Object.fromEntries(
    text.split("\n").map((line) => [line.slice(0, line.indexOf(":")), line.slice(line.indexOf(":") + 1).trim()]),
  );
}

export interface Stroke {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
}

/** Every straight stroke of every page, in points from the upper left corner (ISO 32000-1, 8.5.2: operators m and l). */
export function pdfStrokes(bytes: Uint8Array): Stroke[] {
  const source = Buffer.from(bytes).toString("latin1");
  const strokes: Stroke[] = [];
  for (const match of source.matchAll(/\/Filter \/FlateDecode\n?>>\nstream\n/g)) {
    const start = match.index + match[0].length;
    const end = source.indexOf("\nendstream", start);
    let text: string;
    try {
      text = inflateSync(Buffer.from(source.slice(start, end), "latin1")).toString("latin1");
    } catch {
      continue;
    }
    let at: readonly [number, number] | null = null;
    for (const [, x, y, operator] of text.matchAll(/(-?[\d.]+) (-?[\d.]+) ([ml])\n/g)) {
      const to = [Number(x), Number(y)] as const;
      if (operator === "l" && at !== null) strokes.push({ from: at, to });
      at = to;
    }
  }
  return strokes;
}
