// In the running server: a checked backup when a day has been closed, old readings thinned in the night, and what fails is said.
import { existsSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { hourAt } from "../../server/app-keeping.ts";
import { createNightly } from "../../server/backup-nightly.ts";
import { makeBackup } from "../../server/backup-make.ts";
import { openStore } from "../../server/store/store.ts";
import { counter, runApp, until } from "../support/running-app.ts";
import { NOON_MS, pack, SITE } from "../support/small-site.ts";

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;

/** A program is started for each backup, and a busy machine takes its time over that. */
describe("keeping in the running server", { timeout: 300_000 }, () => {
  let home: string;
  beforeEach(async () => {
    home = await mkdtemp(join(tmpdir(), "nightslab-nightly-"));
  });
  afterEach(() => rm(home, { recursive: true, force: true }));

  it("backs up after the day, drops the oldest, and thins by the clock of the site", async () => {
    const backups = join(home, "data");
    for (const day of ["01", "02"]) writeFileSync(join(home, `nightslab-202601${day}T000000Z.backup`), "old");
    // A tick every quarter second: each is a minute of the site.
    const running = await runApp({
      data: backups,
      pace: 240,
      settings: { backupDir: home, backupKeep: 2, keepRawDays: 30 },
    });
    await running.send([0, 1, 2, 3, 4, 5].flatMap((index) => pack(NOON_MS - HOUR_MS + index * 30_000)));
    const made = () => readdirSync(home).filter((name) => name.endsWith(".backup"));
    expect(made()).toHaveLength(2);
    running.moveClock(DAY_MS);
    await until(() => made().some((name) => name >= "nightslab-20260204"), 240_000);
    await until(() => made().length === 2, 5000);
    expect(made()).toContain("nightslab-20260102T000000Z.backup");
    const newest = made().sort().at(-1) as string;
    expect(statSync(join(home, newest)).mode & 0o777).toBe(0o600);
    expect(running.app.desk.health().parts["keeping"]).toEqual({ state: "up", detail: null });

    // To the small hours at the site, a month and more later.
    running.moveClock(40 * DAY_MS);
    while (hourAt(SITE.timezone, running.nowMs()) !== 2) running.moveClock(HOUR_MS);
    // Three quantities; of six readings each in three minutes one stays in each five.
    await until(() => counter(running, "readingsThinned") > 0, 20_000);
    expect(counter(running, "readingsThinned")).toBe(15);
    await running.stop();
    expect(readdirSync(home).filter((name) => name.includes("unchecked"))).toEqual([]);
    const store = openStore(backups);
    expect(store.readings.range(SITE.id, "bay-1", "slab", 0, NOON_MS * 2).atMs).toEqual([NOON_MS - HOUR_MS]);
    store.close();
    expect(existsSync(join(home, newest))).toBe(true);
    expect(() => makeBackup(join(home, "nowhere"), join(home, "x"), NOON_MS)).toThrow("there is nothing to back up");
  });

  it("says what a backup failed of", async () => {
    const errors: string[] = [];
    const nightly = createNightly({
      ...{ data: join(home, "nothing"), dir: home, keep: 3, nowMs: () => NOON_MS },
      made: () => expect.fail("nothing was there to back up"),
      failed: ({ message }) => errors.push(message),
    });
    nightly.begin();
    await until(() => errors.length > 0, 240_000);
    expect(nightly.health()).toMatchObject({
      state: "degraded",
      detail: expect.stringContaining("there is nothing to back up in the data folder") as string,
    });
    await nightly.close();
  });

  it("knows the hour at a site", () => {
    expect(hourAt("America/Vancouver", NOON_MS)).toBe(4);
    expect(hourAt("UTC", NOON_MS + 12 * HOUR_MS)).toBe(0);
  });
});
