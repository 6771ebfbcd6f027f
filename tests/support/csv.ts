// Reads the vendored tables of tests/reference: comma separated, quoted where needed, one heading line.
import { readFileSync } from "node:fs";

const REFERENCE = new URL("../reference/", import.meta.url);

export type Row = Readonly<Record<string, string>>;

export function referenceText(path: string): string {
  return readFileSync(new URL(path, REFERENCE), "utf8");
}

function splitLine(line: string): string[] {
  const cells: string[] = [];
  let cell = "";
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    const mark = line[i] as string;
    if (mark === '"' && quoted && line[i + 1] === '"') {
      cell += mark;
      i++;
    } else if (mark === '"') quoted = !quoted;
    else if (mark === "," && !quoted) {
      cells.push(cell);
      cell = "";
    } else cell += mark;
  }
  return [...cells, cell];
}

/** Rows of `tests/reference/{path}`; a row with more or fewer cells than the heading is an error. */
export function referenceRows(path: string): Row[] {
  const [heading, ...lines] = referenceText(path).trimEnd().split(/\r?\n/);
  const names = splitLine(heading as string);
  return lines.map((line, at) => {
    const cells = splitLine(line);
    if (cells.length !== names.length) throw new RangeError(`${path} line ${at + 2}: ${cells.length} cells`);
    return Object.fromEntries(names.map((name, i) => [name, cells[i] as string]));
  });
}

/** A number of a row; an empty or odd cell is an error, never zero. */
export function numberOf(row: Row, column: string): number {
  const text = row[column];
  const value = Number(text);
  if (text === undefined || text.trim() === "" || !Number.isFinite(value)) throw new RangeError(`${column}: "${text}"`);
  return value;
}

export function has(row: Row, column: string): boolean {
  return (row[column] ?? "") !== "";
}
