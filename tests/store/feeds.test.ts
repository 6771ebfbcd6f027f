// Weather feeds in the embedded database: recipes by version, and fetches that know by which of them they were read.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import Libsql from "libsql";
import { migrate } from "../../server/store/migrate.ts";
import type { Store } from "../../server/store/ports.ts";
import { MIGRATIONS } from "../../server/store/schema.ts";
import { wrap } from "../../server/store/sql.ts";
import { openStore } from "../../server/store/store.ts";
import { ITEMS_RECIPE, LISTS_RECIPE } from "../support/feed-sample.ts";

const T0 = Date.UTC(2026, 1, 3, 12);
const HOURS = [{ atMs: T0, airC: 3.3, dewPointC: -0.1 }];
let folder: string;
let store: Store;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightslab-feeds-"));
  store = openStore(folder);
});
afterEach(async () => {
  store.close();
  await rm(folder, { recursive: true, force: true });
});

it("the newest recipe stands, taking it away is a version too, and sites do not mix", () => {
  const { records } = store;
  expect(records.feed("dock")).toBeNull();
  expect(records.putFeed("dock", LISTS_RECIPE, T0)).toBe(1);
  expect(records.putFeed("dock", ITEMS_RECIPE, T0 + 1)).toBe(2);
  expect(records.feed("dock")).toEqual({ version: 2, body: ITEMS_RECIPE });
  expect(records.putFeed("dock", null, T0 + 2)).toBe(3);
  expect(records.feed("dock")).toBeNull();
  expect(records.putFeed("dock", LISTS_RECIPE, T0 + 3)).toBe(4);
  store.close();
  store = openStore(folder);
  expect(store.records.feed("dock")).toEqual({ version: 4, body: LISTS_RECIPE });
  expect(store.records.feed("barn")).toBeNull();
});

it("fetches come back in order, with their recipe if they had one, and the first of a time stands", () => {
  store.feeds.append("dock", { fetchedMs: T0 + 5, recipe: 2, hours: [] });
  store.feeds.append("dock", { fetchedMs: T0, hours: HOURS });
  store.feeds.append("dock", { fetchedMs: T0, recipe: 9, hours: [] });
  expect(store.feeds.since("dock", 0)).toEqual([
    { fetchedMs: T0, hours: HOURS },
    { fetchedMs: T0 + 5, recipe: 2, hours: [] },
  ]);
  expect(store.feeds.since("dock", T0 + 1)).toHaveLength(1);
});

it("fetches from before there were recipes stay", () => {
  const file = join(folder, "old.sqlite");
  const db = wrap(new Libsql(file));
  migrate(db, file, MIGRATIONS.slice(0, 1), T0);
  db.exec(`INSERT INTO feed_fetches VALUES ('dock', ${T0}, '${JSON.stringify(HOURS)}')`);
  migrate(db, file, MIGRATIONS, T0);
  expect(db.prepare("SELECT fetched_ms, body, recipe FROM feed_fetches").all()).toEqual([
    [T0, JSON.stringify(HOURS), null],
  ]);
  db.close();
});
