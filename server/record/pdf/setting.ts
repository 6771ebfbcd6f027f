// What every part of a document is drawn with: paper, words, the site's clock and the reader's figures.
import type { PdfOptions } from "../ports.ts";
import { type Figures, figuresOf } from "./figures.ts";
import { INK, type Paper } from "./paper.ts";
import { type SiteClock, siteClock } from "./site-clock.ts";
import type { Words } from "./words.ts";
import { EN } from "./words-en.ts";
import { ES } from "./words-es.ts";

export interface Setting {
  readonly words: Words;
  readonly clock: SiteClock;
  readonly figures: Figures;
}

export function settingOf({ language, units = "us" }: PdfOptions, timezone: string): Setting {
  return { words: language === "es" ? ES : EN, clock: siteClock(timezone), figures: figuresOf(units) };
}

/** Paper follows the reader: Letter where °F stands first, A4 elsewhere. */
export function sheetSize({ units = "us" }: PdfOptions): "LETTER" | "A4" {
  return units === "us" ? "LETTER" : "A4";
}

/** Heading of a part; it never stands alone at the foot of a page. */
export function heading(paper: Paper, title: string, help?: string): void {
  paper.need(64);
  paper.space(9);
  paper.y += paper.write(title, paper.left, paper.y, { size: 11.5, face: "bold" });
  if (help !== undefined)
    paper.y += paper.write(help, paper.left, paper.y, { size: 7.7, colour: INK.dim, leading: 0.8 });
  paper.space(3);
}

/** Name of the document, what it is of, and a rule beneath. */
export function title(paper: Paper, kind: string, lines: readonly string[]): void {
  const { doc } = paper;
  const mark = paper.y + 3;
  // The mark of the house: a floor, and a tide that comes and goes over it.
  doc
    .save()
    .lineWidth(2)
    .strokeColor(INK.ink)
    .moveTo(paper.left, mark + 20)
    .lineTo(paper.left + 24, mark + 20)
    .stroke();
  doc
    .lineWidth(1.4)
    .strokeColor(INK.dew)
    .moveTo(paper.left, mark + 12);
  for (const x of [0, 12])
    doc.bezierCurveTo(paper.left + x + 4, mark + 4, paper.left + x + 8, mark + 18, paper.left + x + 12, mark + 11);
  doc.stroke().restore();
  const x = paper.left + 34;
  const width = paper.width - 34;
  paper.y += paper.write(kind, x, paper.y, { size: 19, face: "bold", width, leading: 0 });
  for (const [index, text] of lines.entries())
    paper.y += paper.write(text, x, paper.y, {
      size: index === 0 ? 11.5 : 9,
      face: index === 0 ? "bold" : "plain",
      colour: index === 0 ? INK.ink : INK.dim,
      width,
    });
  paper.space(3);
  doc
    .moveTo(paper.left, paper.y)
    .lineTo(paper.left + paper.width, paper.y)
    .lineWidth(1.2)
    .strokeColor(INK.ink)
    .stroke();
  paper.space(7);
}

export const msOf = (iso: string): number => Date.parse(iso);
