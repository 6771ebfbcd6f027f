// A backup holds everything at one moment, is checked, and comes back; what is damaged or newer is refused and nothing touched.
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Libsql from "libsql";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makeBackup } from "../../server/backup-make.ts";
import { restoreBackup } from "../../server/restore-make.ts";
import { DATABASE_FILE } from "../../server/store/database.ts";
import { openStore } from "../../server/store/store.ts";
import { NOON_MS, SITE } from "../support/small-site.ts";

const root = new URL("../..", import.meta.url).pathname;
const DAY_MS = 86_400_000;
const reading = (atMs: number, value: number) => ({
  ...{ site: SITE.id, node: "bay-1", quantity: "slab", heardMs: atMs + 5 },
  atMs,
  value,
});

describe("backup and restore", () => {
  let home: string;
  let data: string;
  let to: string;
  beforeEach(async () => {
    home = await mkdtemp(join(tmpdir(), "nightslab-backup-"));
    data = join(home, "data");
    to = join(home, "night.backup");
  });
  afterEach(() => rm(home, { recursive: true, force: true }));

  async function filled(): Promise<void> {
    const store = openStore(data);
    store.records.putSite(SITE, NOON_MS);
    store.readings.append([0, 1, 2, 3].map((index) => reading(NOON_MS + index * 60_000, 12 + index)));
    store.journal.append(SITE.id, {
      ...{ id: "e-1", zone: "bay", by: "Ida", atMs: NOON_MS, heardMs: NOON_MS },
      did: "held",
      why: "wind",
    });
    await store.heads.closeDays(NOON_MS + DAY_MS, () => false);
    store.close();
    mkdirSync(join(data, "keys"), { mode: 0o700 });
    writeFileSync(join(data, "keys/push.json"), "{}", { mode: 0o600 });
  }

  it("copies a folder that a server is writing to, with its other files, for its owner alone", async () => {
    await filled();
    const store = openStore(data);
    store.readings.append([reading(NOON_MS + DAY_MS, 20)]);
    const made = makeBackup(data, to, NOON_MS);
    store.readings.append([reading(NOON_MS + DAY_MS + 1000, 21)]);
    expect(made).toMatchObject({
      path: to,
      files: 1,
      broken: null,
      sites: [{ site: SITE.id, days: 1, entries: 1, readings: 4 }],
    });
    expect(statSync(to).mode & 0o777).toBe(0o600);
    expect(() => makeBackup(data, to, NOON_MS)).toThrow("is there already, and nothing is overwritten");
    expect(() => restoreBackup(to, data, NOON_MS)).toThrow("another server is running on the data folder");
    store.close();
    expect(readdirSync(home).sort()).toEqual(["data", "night.backup"]);

    const done = restoreBackup(to, data, NOON_MS);
    expect(done).toMatchObject({ former: `${data}.before-20260203T120000000Z`, madeMs: NOON_MS });
    expect(readFileSync(join(data, "keys/push.json"), "utf8")).toBe("{}");
    expect(statSync(join(data, "keys/push.json")).mode & 0o777).toBe(0o600);
    const back = openStore(data);
    expect(back.readings.range(SITE.id, "bay-1", "slab", 0, NOON_MS * 2).values).toEqual([12, 13, 14, 15, 20]);
    back.close();
    const former = openStore(done.former as string);
    expect(former.readings.latest(SITE.id)).toMatchObject([{ value: 21 }]);
    former.close();
  });

  it("restores where nothing stands", async () => {
    await filled();
    makeBackup(data, to, NOON_MS);
    const elsewhere = join(home, "other/place");
    expect(restoreBackup(to, elsewhere, NOON_MS)).toMatchObject({ folder: elsewhere, former: null });
    const store = openStore(elsewhere);
    expect(store.journal.entries(SITE.id)).toHaveLength(1);
    store.close();
  });

  const spoil = (file: string, sql: string) => {
    const db = new Libsql(file);
    db.exec(sql);
    db.close();
  };

  it.each([
    [
      "an entry",
      "UPDATE journal SET body = replace(body, 'wind', 'rain')",
      /journal line 1 \(2026-02-03\) is not what/,
    ],
    ["a reading", "UPDATE readings SET value = 1 WHERE value = 13", /2026-02-03 bay-1\/slab: a reading is not what/],
    ["a lost reading", "DELETE FROM readings WHERE value = 13", /has 3 readings, and 4 were kept/],
    ["a head", "UPDATE day_heads SET head = 'x'", /the head of 2026-02-03 is not the hash of its parts/],
  ])("tells of %s that was changed, keeps the copy, and restores it only when told to", async (_, sql, what) => {
    await filled();
    spoil(join(data, DATABASE_FILE), sql);
    const made = makeBackup(data, to, NOON_MS);
    expect(made.broken).toMatch(what);
    expect(() => restoreBackup(to, data, NOON_MS)).toThrow(/the chain of evidence in .* is broken/);
    expect(readdirSync(home).sort()).toEqual(["data", "night.backup"]);
    expect(restoreBackup(to, data, NOON_MS, true).broken).toMatch(what);
  });

  it("refuses what is damaged, newer or no backup, and leaves all as it is", async () => {
    await filled();
    makeBackup(data, to, NOON_MS);
    const newer = join(home, "newer");
    writeFileSync(newer, readFileSync(to));
    spoil(newer, "INSERT INTO migrations VALUES (99, 'from the future', 0)");
    expect(() => restoreBackup(newer, data, NOON_MS)).toThrow(/has version 99, and this program knows versions up to/);
    const damaged = join(home, "damaged");
    const bytes = readFileSync(to);
    bytes.fill(0xa5, 8192, 16_384);
    writeFileSync(damaged, bytes);
    expect(() => restoreBackup(damaged, data, NOON_MS)).toThrow(/damaged|malformed/);
    const text = join(home, "text");
    writeFileSync(text, "Dear diary,\n".repeat(400));
    expect(() => restoreBackup(text, data, NOON_MS)).toThrow("is no backup");
    expect(readdirSync(home).sort()).toEqual(["damaged", "data", "newer", "night.backup", "text"]);
    const store = openStore(data);
    expect(store.readings.latest(SITE.id)).toMatchObject([{ value: 15 }]);
    store.close();
  });

  // Two programs are started, and a busy machine takes its time over that.
  it("says as a command what it did, and why it did not", { timeout: 300_000 }, async () => {
    await filled();
    const run = (program: string, ...words: string[]) =>
      spawnSync(process.execPath, ["--import", "tsx", `server/${program}.ts`, ...words], {
        cwd: root,
        encoding: "utf8",
        env: { PATH: process.env["PATH"] ?? "", NIGHTSLAB_DATA: data },
      });
    const made = run("backup", "--to", to);
    expect(made.status, made.stderr).toBe(0);
    expect(made.stdout).toContain("dock: 1 closed days, 1 entries, 0 calls, 4 readings");
    const back = run("restore", to);
    expect(back.status, back.stderr).toBe(0);
    expect(back.stdout).toContain("What stood there before is in");
    expect(existsSync(join(data, DATABASE_FILE))).toBe(true);
  });
});
