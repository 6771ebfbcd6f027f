// A database is brought forward step by step, with a copy from before; a newer one is left alone.
import { statSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Libsql from "libsql";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { copiesOf, migrate } from "../../server/store/migrate.ts";
import { MIGRATIONS } from "../../server/store/schema.ts";
import { type Database, wrap } from "../../server/store/sql.ts";

const STEPS = [
  { number: 1, name: "notes", sql: "CREATE TABLE notes (text TEXT); INSERT INTO notes VALUES ('first');" },
  { number: 2, name: "with who", sql: "ALTER TABLE notes ADD COLUMN who TEXT; UPDATE notes SET who = 'Ida';" },
  { number: 3, name: "broken", sql: "INSERT INTO notes (text) VALUES ('half'); INSERT INTO nowhere VALUES (1);" },
];

describe("migrations", () => {
  let folder: string;
  let file: string;
  const open: Database[] = [];
  const openFile = (path = file) => {
    const db = wrap(new Libsql(path));
    open.push(db);
    return db;
  };
  const version = (db: Database) => db.prepare("SELECT max(number) FROM migrations").get()?.[0];

  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-migrate-"));
    file = join(folder, "a.sqlite");
  });
  afterEach(async () => {
    for (const db of open.splice(0)) db.close();
    await rm(folder, { recursive: true, force: true });
  });

  it("runs what is missing once, and makes no copy of a new file", () => {
    const db = openFile();
    migrate(db, file, STEPS.slice(0, 2), 1000);
    migrate(db, file, STEPS.slice(0, 2), 2000);
    expect(db.prepare("SELECT text, who FROM notes").all()).toEqual([["first", "Ida"]]);
    expect(db.prepare("SELECT number, name, at_ms FROM migrations").all()).toEqual([
      [1, "notes", 1000],
      [2, "with who", 1000],
    ]);
    expect(copiesOf(file)).toEqual([]);
  });

  it("copies an existing file before it is changed", () => {
    const db = openFile();
    migrate(db, file, STEPS.slice(0, 1), 1000);
    db.exec("INSERT INTO notes VALUES ('second')");
    migrate(db, file, STEPS.slice(0, 2), 2000);
    expect(version(db)).toBe(2);
    const [path = ""] = copiesOf(file);
    expect(path).toBe(`${file}.v1-19700101T000002000Z`);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    const copy = openFile(path);
    expect(version(copy)).toBe(1);
    expect(copy.prepare("SELECT text FROM notes").all()).toEqual([["first"], ["second"]]);
  });

  it("undoes a step that fails, and keeps the copy", () => {
    const db = openFile();
    migrate(db, file, STEPS.slice(0, 2), 1000);
    expect(() => migrate(db, file, STEPS, 2000)).toThrow("nowhere");
    expect(version(db)).toBe(2);
    expect(db.prepare("SELECT text FROM notes").all()).toEqual([["first"]]);
    expect(copiesOf(file)).toHaveLength(1);
  });

  it("refuses a file from a newer program and leaves it as it is", () => {
    const db = openFile();
    migrate(db, file, STEPS.slice(0, 2), 1000);
    expect(() => migrate(db, file, STEPS.slice(0, 1), 2000)).toThrow(
      /has version 2, and this program knows versions up to 1/,
    );
    expect(version(db)).toBe(2);
  });

  it("keeps three copies, of the newest versions and times", () => {
    const db = openFile();
    migrate(db, file, STEPS.slice(0, 1), 1000);
    migrate(db, file, STEPS.slice(0, 2), 2000);
    for (const atMs of [3000, 4000, 5000]) expect(() => migrate(db, file, STEPS, atMs)).toThrow("nowhere");
    expect(copiesOf(file).map((path) => path.slice(file.length))).toEqual([
      ".v2-19700101T000005000Z",
      ".v2-19700101T000004000Z",
      ".v2-19700101T000003000Z",
    ]);
  });

  it("changes nothing where the disk has no room for the copy, and says how much is missing", () => {
    const db = openFile();
    migrate(db, file, STEPS.slice(0, 1), 1000);
    expect(() => migrate(db, file, STEPS.slice(0, 2), 2000, { freeBytes: () => 3_000_000 })).toThrow(
      /needs 17 MB free in .*, and there are 2: nothing was changed/,
    );
    expect(version(db)).toBe(1);
    expect(copiesOf(file)).toEqual([]);
  });

  it("are numbered from one without gaps", () => {
    expect(MIGRATIONS.map(({ number }) => number)).toEqual(MIGRATIONS.map((_, index) => index + 1));
  });
});
