// The readings of a stretch as one text: each row and each number on its way out of the engine costs more than to write it
// down there and to read it here.
import type { Database } from "./sql.ts";
import { MICROS } from "./sums.ts";

export interface Columns {
  readonly atMs: readonly number[];
  readonly values: readonly number[];
  readonly heardMs: readonly number[];
}

export interface ReadRange {
  /** Readings from `fromMs` up to `toMs`, both counted in, in the order of their times; epoch ms. Every number to its last bit. */
  range(series: number, fromMs: number, toMs: number): Columns;
}

type Numbers = readonly [atMs: number, value: number, heardMs: number];

const ROWS = "SELECT at_ms, value, heard_ms FROM readings WHERE series = ? AND at_ms BETWEEN ? AND ? ORDER BY at_ms";
/**
 * Time, value in millionths, and how much later it was heard. The second column is 0 where a number is not to be had back so:
 * a millionth as a whole number, divided, is the value bit for bit here as there, or the value has more digits than nodes send.
 */
const TEXT = `
  SELECT
    group_concat(at_ms || ' ' || micros || ' ' || (heard_ms - at_ms), ' '),
    min(micros / ${MICROS}.0 = value AND typeof(at_ms) = 'integer' AND typeof(heard_ms) = 'integer')
  FROM (
    SELECT at_ms, value, heard_ms, CAST(round(value * ${MICROS}.0) AS INTEGER) AS micros
    FROM readings WHERE series = ? AND at_ms BETWEEN ? AND ? ORDER BY at_ms
  )`;
const [SPACE, MINUS, ZERO] = [32, 45, 48] as const;
const COLUMNS = 3;

/** Whole numbers with a space between them. */
function numbersIn(text: string): number[] {
  const numbers: number[] = [];
  let number = 0;
  let sign = 1;
  for (let at = 0; at < text.length; at++) {
    const letter = text.charCodeAt(at);
    if (letter === SPACE) {
      numbers.push(sign * number);
      number = 0;
      sign = 1;
    } else if (letter === MINUS) sign = -1;
    else number = number * 10 + (letter - ZERO);
  }
  numbers.push(sign * number);
  return numbers;
}

function columnsOf(numbers: readonly number[]): Columns {
  const columns = { atMs: [] as number[], values: [] as number[], heardMs: [] as number[] };
  for (let at = 0; at < numbers.length; at += COLUMNS) {
    const atMs = numbers[at] as number;
    columns.atMs.push(atMs);
    columns.values.push((numbers[at + 1] as number) / MICROS);
    columns.heardMs.push(atMs + (numbers[at + 2] as number));
  }
  return columns;
}

export function createReadRange(db: Database): ReadRange {
  const asText = db.prepare(TEXT);
  const asRows = db.prepare(ROWS);
  return {
    range(series, fromMs, toMs) {
      const [text, isWhole] = asText.get(series, fromMs, toMs) as unknown as readonly [string | null, number | null];
      if (text === null) return { atMs: [], values: [], heardMs: [] };
      if (isWhole === 1) return columnsOf(numbersIn(text));
      const rows = asRows.all(series, fromMs, toMs) as unknown as Numbers[];
      return {
        atMs: rows.map((row) => row[0]),
        values: rows.map((row) => row[1]),
        heardMs: rows.map((row) => row[2]),
      };
    },
  };
}
