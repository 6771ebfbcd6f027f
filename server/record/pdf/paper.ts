// A document on paper: pages, a cursor that turns them, fonts and inks, and "page n of m" on each when all are known.
import PDFDocument from "pdfkit";
import { drawable } from "./letters.ts";
import { linesOf } from "./lines.ts";

export const INK = {
  ink: "#131512",
  dim: "#454a48",
  line: "#b9b6ac",
  grid: "#dedbd2",
  below: "#e3b7ae",
  wash: "#f1eee6",
  water: "#dbe3e4",
  paper: "#ffffff",
  pour: "#00564a",
  wait: "#6f4300",
  abrade: "#661a74",
  finished: "#2b4560",
  stop: "#7d1f12",
  slab: "#131512",
  air: "#8a5a00",
  dew: "#1f5f8b",
} as const;

export const FACE = { plain: "Helvetica", bold: "Helvetica-Bold", slanted: "Helvetica-Oblique" } as const;

export interface Ink {
  readonly size?: number;
  readonly face?: keyof typeof FACE;
  readonly colour?: string;
  readonly align?: "left" | "right" | "center";
  readonly width?: number;
  readonly leading?: number;
}

export interface Paper {
  readonly doc: PDFKit.PDFDocument;
  readonly left: number;
  readonly width: number;
  readonly top: number;
  readonly bottom: number;
  /** Where the next thing stands, points from the top. */
  y: number;
  /** Turns the page unless so much still fits. */
  need(heightPt: number): void;
  turn(): void;
  /** Height that the text takes. */
  tall(text: string, ink?: Ink): number;
  wide(text: string, ink?: Ink): number;
  /** Writes at a place and leaves the cursor where it is; gives the height. */
  write(text: string, x: number, y: number, ink?: Ink): number;
  /** Writes at the cursor, over pages if it must, and moves it. */
  tell(text: string, ink?: Ink): void;
  space(heightPt: number): void;
}

export interface PaperWish {
  readonly size: "LETTER" | "A4";
  readonly title: string;
  readonly subject: string;
  readonly language: string;
  /** When the content was made: the same content gives the same bytes. */
  readonly madeMs: number;
  /** Told at the foot of every page. */
  readonly foot: string;
  readonly pageOf: (page: number, pages: number) => string;
}

const SIDE = 46;
const TOP = 44;
const FOOT = 46;
const USUAL = 8.6;

function paperOn(doc: PDFKit.PDFDocument): Paper {
  const width = doc.page.width - 2 * SIDE;
  const set = ({ size = USUAL, face = "plain", colour = INK.ink }: Ink) =>
    doc.font(FACE[face]).fontSize(size).fillColor(colour);
  const wide = (text: string) => doc.widthOfString(text);
  const high = ({ leading = 1.4 }: Ink) => doc.currentLineHeight(true) + leading;
  const paper: Paper = {
    doc,
    left: SIDE,
    width,
    top: TOP,
    bottom: doc.page.height - FOOT,
    y: TOP,
    need(heightPt) {
      if (paper.y + heightPt > paper.bottom) paper.turn();
    },
    turn() {
      doc.addPage();
      paper.y = TOP;
    },
    tall(text, ink = {}) {
      set(ink);
      return linesOf(drawable(text), ink.width ?? width, wide).length * high(ink);
    },
    wide(text, ink = {}) {
      set(ink);
      return wide(drawable(text));
    },
    write(text, x, y, ink = {}) {
      set(ink);
      const { width: room = width, align = "left" } = ink;
      const lines = linesOf(drawable(text), room, wide);
      for (const [index, line] of lines.entries()) {
        const free = align === "left" ? 0 : room - wide(line);
        doc.text(line, x + (align === "center" ? free / 2 : free), y + index * high(ink), { lineBreak: false });
      }
      return lines.length * high(ink);
    },
    tell(text, ink = {}) {
      paper.need(Math.min(paper.tall(text, ink), paper.bottom - TOP));
      paper.y += paper.write(text, SIDE, paper.y, ink);
    },
    space(heightPt) {
      paper.y += heightPt;
    },
  };
  return paper;
}

/** Draws a document and gives its bytes. */
export async function onPaper(wish: PaperWish, draw: (paper: Paper) => void | Promise<void>): Promise<Uint8Array> {
  const doc = new PDFDocument({
    size: wish.size,
    margin: 0,
    bufferPages: true,
    lang: wish.language,
    displayTitle: true,
    pdfVersion: "1.7",
    info: {
      Title: drawable(wish.title),
      Subject: drawable(wish.subject),
      Creator: "Nightslab",
      Producer: "Nightslab",
      CreationDate: new Date(wish.madeMs),
      ModDate: new Date(wish.madeMs),
    },
  });
  const parts: Buffer[] = [];
  const whole = new Promise<Uint8Array>((resolve, reject) => {
    doc.on("data", (part: Buffer) => parts.push(part));
    doc.on("end", () => resolve(Buffer.concat(parts)));
    doc.on("error", reject);
  });
  const paper = paperOn(doc);
  await draw(paper);
  const { count } = doc.bufferedPageRange();
  for (let page = 0; page < count; page += 1) {
    doc.switchToPage(page);
    const y = doc.page.height - FOOT + 14;
    doc
      .moveTo(SIDE, y - 5)
      .lineTo(SIDE + paper.width, y - 5)
      .lineWidth(0.5)
      .strokeColor(INK.line)
      .stroke();
    const ink: Ink = { size: 7, colour: INK.dim };
    paper.write(wish.foot, SIDE, y, { ...ink, width: paper.width - 90 });
    paper.write(wish.pageOf(page + 1, count), SIDE, y, { ...ink, align: "right" });
  }
  doc.end();
  return whole;
}
