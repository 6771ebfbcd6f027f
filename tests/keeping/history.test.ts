// A data folder of any earlier version opens with what was in it, with a copy from before beside it, and its chain holds.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Libsql from "libsql";
import { afterEach, describe, expect, it } from "vitest";
import { bodyFromEntry } from "#contract/journal.ts";
import type { JournalEntry } from "../../server/core/zone/journal.ts";
import { DATABASE_FILE } from "../../server/store/database.ts";
import { copiesOf, migrate, versionOf } from "../../server/store/migrate.ts";
import { MIGRATIONS } from "../../server/store/schema.ts";
import { wrap } from "../../server/store/sql.ts";
import { openStore } from "../../server/store/store.ts";
import { NOON_MS, SITE } from "../support/small-site.ts";

const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true });
});

const ENTRY: JournalEntry = {
  ...{ id: "e-1", zone: "bay", by: "Ida", atMs: NOON_MS - 1000, heardMs: NOON_MS },
  did: "held",
  why: "wind",
};

/** A database as the program of that version left it: by its own steps, with rows in the form of the first schema. */
async function oldFolder(version: number): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "nightslab-history-"));
  folders.push(folder);
  const file = join(folder, DATABASE_FILE);
  const db = wrap(new Libsql(file));
  migrate(db, file, MIGRATIONS.slice(0, version), NOON_MS);
  db.prepare("INSERT INTO sites VALUES ('', ?, 1, ?, ?)").run(SITE.id, NOON_MS, JSON.stringify(SITE));
  db.prepare("INSERT INTO series VALUES (1, ?, 'bay-1', 'slab')").run(SITE.id);
  db.prepare("INSERT INTO readings VALUES (1, ?, 12.5, ?)").run(NOON_MS, NOON_MS + 5);
  db.prepare("INSERT INTO journal (id, site, zone, at_ms, heard_ms, who, body) VALUES (?, ?, ?, ?, ?, ?, ?)").run(
    ENTRY.id,
    SITE.id,
    ENTRY.zone,
    ENTRY.atMs,
    ENTRY.heardMs,
    ENTRY.by,
    JSON.stringify(bodyFromEntry(ENTRY)),
  );
  // From the chain on each reading is told to its day.
  if (version >= 6) db.exec(`INSERT INTO heard_days VALUES ('${SITE.id}', 20487, ${NOON_MS}, ${NOON_MS + 3_600_000})`);
  db.close();
  return folder;
}

describe("a data folder of an earlier version", () => {
  it.each(MIGRATIONS.map(({ number }) => number))("%i opens with all that was in it", async (version) => {
    const folder = await oldFolder(version);
    const file = join(folder, DATABASE_FILE);
    const store = openStore(folder);
    expect(store.records.sites()).toMatchObject([{ body: SITE }]);
    expect(store.readings.latest(SITE.id)).toMatchObject([{ node: "bay-1", value: 12.5, heardMs: NOON_MS + 5 }]);
    expect(store.journal.entries(SITE.id)).toEqual([ENTRY]);
    expect(store.heads.journal(SITE.id, "2026-02-03")).toMatchObject([{ body: { id: "e-1" }, prev: "0".repeat(64) }]);
    expect(await store.heads.closeDays(NOON_MS + 86_400_000, () => false)).toMatchObject([
      { day: "2026-02-03", entries: 1, readingCount: 1 },
    ]);
    store.close();
    const copies = copiesOf(file);
    expect(copies).toHaveLength(version === MIGRATIONS.length ? 0 : 1);
    for (const path of copies) {
      const copy = wrap(new Libsql(path));
      expect(versionOf(copy)).toBe(version);
      expect(copy.prepare("SELECT value FROM readings").all()).toEqual([[12.5]]);
      copy.close();
    }
  });
});
