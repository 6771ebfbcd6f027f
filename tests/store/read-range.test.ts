// A range read as one text is the range read row by row, to the last bit: digits of nodes, digits of nobody, times with fractions.
import fc from "fast-check";
import Libsql from "libsql";
import { describe, expect, it } from "vitest";
import { createReadRange } from "../../server/store/read-range.ts";
import { type Prepared, wrap } from "../../server/store/sql.ts";
import { NOON_MS } from "../support/small-site.ts";

const TABLE = `CREATE TABLE readings (
  series INTEGER NOT NULL, at_ms INTEGER NOT NULL, value REAL NOT NULL, heard_ms INTEGER NOT NULL,
  PRIMARY KEY (series, at_ms)) WITHOUT ROWID`;
const SERIES = 3;

type Row = readonly [atMs: number, value: number, heardMs: number];

/** What both ways say of these rows, and whether the text was enough. */
function bothWays(rows: readonly Row[], fromMs = 0, toMs = Number.MAX_SAFE_INTEGER) {
  const db = wrap(new Libsql(":memory:"));
  db.exec(TABLE);
  const insert = db.prepare("INSERT INTO readings (series, at_ms, value, heard_ms) VALUES (?, ?, ?, ?)");
  for (const series of [SERIES - 1, SERIES, SERIES + 1])
    for (const [atMs, value, heardMs] of rows) insert.run(series, atMs, series === SERIES ? value : 7, heardMs);
  let asRows = 0;
  const counted = (statement: Prepared): Prepared => ({
    ...statement,
    all(...values) {
      asRows += 1;
      return statement.all(...values);
    },
  });
  const { range } = createReadRange({ ...db, prepare: (sql) => counted(db.prepare(sql)) });
  const found = range(SERIES, fromMs, toMs);
  const byRow = db
    .prepare("SELECT at_ms, value, heard_ms FROM readings WHERE series = ? AND at_ms BETWEEN ? AND ? ORDER BY at_ms")
    .all(SERIES, fromMs, toMs) as unknown as Row[];
  db.close();
  return { found: found.atMs.map((atMs, at) => [atMs, found.values[at], found.heardMs[at]]), byRow, asRows };
}

const times = fc.integer({ min: -1e6, max: 1e9 }).map((ms) => NOON_MS + ms);
const uniqueRows = (value: fc.Arbitrary<number>, atMs: fc.Arbitrary<number>) =>
  fc.uniqueArray(fc.tuple(atMs, value, atMs), { maxLength: 40, selector: ([at]) => at });

describe("a range of readings", () => {
  it("is read as one text where values have six decimals at most", () => {
    const decimals = fc
      .tuple(fc.integer({ min: -99_999_999, max: 99_999_999 }), fc.integer({ min: 0, max: 6 }))
      .map(([digits, places]) => Number(`${digits}e-${places}`));
    fc.assert(
      fc.property(uniqueRows(decimals, times), (rows) => {
        const { found, byRow, asRows } = bothWays(rows);
        expect(found).toEqual(byRow);
        expect(found).toHaveLength(rows.length);
        expect(asRows).toBe(0);
      }),
    );
  });

  it("is read row by row where one of them has more digits, and is the same", () => {
    fc.assert(
      fc.property(uniqueRows(fc.double({ noNaN: true, noDefaultInfinity: true }), times), (rows) => {
        const { found, byRow } = bothWays(rows);
        expect(found).toEqual(byRow);
      }),
    );
    const { found, asRows } = bothWays([
      [NOON_MS, 12.5, NOON_MS + 500],
      [NOON_MS + 1, 1 / 3, NOON_MS + 501],
    ]);
    expect(found.map(([, value]) => value)).toEqual([12.5, 1 / 3]);
    expect(asRows).toBe(1);
  });

  it("keeps fractions of times, and values beyond all millionths", () => {
    for (const rows of [
      [[NOON_MS + 0.5, 12.5, NOON_MS]],
      [[NOON_MS, 12.5, NOON_MS + 0.25]],
      [[NOON_MS, 1e300, NOON_MS]],
      [[NOON_MS, -9.3e12, NOON_MS]],
      [[NOON_MS, Number.MIN_VALUE, NOON_MS]],
    ] as Row[][]) {
      const { found, byRow } = bothWays(rows);
      expect(found).toEqual(rows);
      expect(byRow).toEqual(rows);
    }
  });

  it("holds what lies between its ends, both counted in, and nothing of other series", () => {
    const rows = [30, 10, 20, 40].map((ms): Row => [NOON_MS + ms, ms / 8, NOON_MS + 100 - ms]);
    const { found } = bothWays(rows, NOON_MS + 20, NOON_MS + 30);
    expect(found).toEqual([
      [NOON_MS + 20, 2.5, NOON_MS + 80],
      [NOON_MS + 30, 3.75, NOON_MS + 70],
    ]);
    expect(bothWays(rows, NOON_MS + 41).found).toEqual([]);
  });
});
