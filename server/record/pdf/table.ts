// Tables over pages: the head is repeated, a row is never cut, and a long word is cut instead of running out.
import { INK, type Ink, type Paper } from "./paper.ts";

export interface Column {
  readonly title: string;
  /** Part of the width. */
  readonly share: number;
  readonly align?: "left" | "right";
}
export interface Cell {
  readonly text: string;
  readonly face?: "plain" | "bold" | "slanted";
  readonly colour?: string;
}
export type Row = readonly (string | Cell)[];

const SIZE = 7.7;
const PAD = 3;
const GAP = 7;

const cellOf = (cell: string | Cell | undefined): Cell => (typeof cell === "object" ? cell : { text: cell ?? "" });

export function table(paper: Paper, columns: readonly Column[], rows: readonly Row[]): void {
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  const widths = columns.map(({ share }) => (share / shares) * (paper.width - GAP * (columns.length - 1)));
  const places = widths.map(
    (_, index) => paper.left + widths.slice(0, index).reduce((sum, width) => sum + width + GAP, 0),
  );
  const inkOf = (index: number, { face = "plain", colour = INK.ink }: Omit<Cell, "text">): Ink => ({
    size: SIZE,
    face,
    colour,
    width: widths[index] as number,
    align: columns[index]?.align ?? "left",
    leading: 0.8,
  });
  const draw = (cells: readonly Cell[], strong: boolean) => {
    const drawn = cells.map((cell, index) => {
      const ink = inkOf(index, cell);
      return { text: cell.text, ink };
    });
    const height = Math.max(...drawn.map(({ text, ink }) => paper.tall(text, ink)));
    return {
      height: height + 2 * PAD,
      put() {
        for (const [index, { text, ink }] of drawn.entries())
          paper.write(text, places[index] as number, paper.y + PAD, ink);
        paper.y += height + 2 * PAD;
        paper.doc
          .moveTo(paper.left, paper.y)
          .lineTo(paper.left + paper.width, paper.y)
          .lineWidth(strong ? 0.9 : 0.35)
          .strokeColor(strong ? INK.ink : INK.line)
          .stroke();
      },
    };
  };
  const head = draw(
    columns.map(({ title }) => ({ text: title, face: "bold", colour: INK.dim })),
    true,
  );
  const first = rows[0] === undefined ? null : draw(rows[0].map(cellOf), false);
  paper.need(head.height + (first?.height ?? 0));
  head.put();
  for (const row of rows) {
    const line = draw(
      columns.map((_, index) => cellOf(row[index])),
      false,
    );
    if (paper.y + line.height > paper.bottom) {
      paper.turn();
      head.put();
    }
    line.put();
  }
  paper.space(6);
}

/** Names and values in two columns of pairs, for what is read once. */
export function facts(paper: Paper, pairs: readonly (readonly [string, string | Cell])[]): void {
  const half = (paper.width - 16) / 2;
  const name = 92;
  for (let index = 0; index < pairs.length; index += 2) {
    const both = pairs.slice(index, index + 2).map(([label, cell], side) => {
      const { text, face = "plain", colour = INK.ink } = cellOf(cell);
      const ink: Ink = { size: 8.2, face, colour, width: half - name, leading: 0.8 };
      return { label, text, ink, x: paper.left + side * (half + 16) };
    });
    const labelInk: Ink = { size: 7.7, colour: INK.dim, width: name - 6, leading: 0.8 };
    const height = Math.max(
      ...both.map(({ label, text, ink }) => Math.max(paper.tall(text, ink), paper.tall(label, labelInk))),
    );
    paper.need(height + 5);
    for (const { label, text, ink, x } of both) {
      paper.write(label, x, paper.y + 2.5, labelInk);
      paper.write(text, x + name, paper.y + 2, ink);
    }
    paper.y += height + 4.5;
  }
  paper.space(4);
}
