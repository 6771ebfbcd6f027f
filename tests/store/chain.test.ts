// The chain of evidence: links, days and heads as SHA-256 says them, a closed day that stays, and old data linked at the start.
import { createHash } from "node:crypto";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Libsql from "libsql";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { bodyFromEntry } from "#contract/journal.ts";
import { bodyFromCall } from "#contract/call.ts";
import { canonical } from "../../server/core/record/canonical.ts";
import type { JournalEntry } from "../../server/core/zone/journal.ts";
import { digestOf } from "../../server/store/heads.ts";
import type { Store } from "../../server/store/ports.ts";
import { openStore } from "../../server/store/store.ts";
import { waitAfterError } from "../../server/pipeline-changes.ts";
import { NOON_MS, SITE } from "../support/small-site.ts";

const DAY = 86_400_000;
const sha = (text: string) => createHash("sha256").update(text, "utf8").digest("hex");
const ZEROS = "0".repeat(64);

const entry = (id: string, heardMs: number): JournalEntry => ({
  id,
  zone: "bay",
  by: "Ida",
  atMs: heardMs - 1000,
  heardMs,
  did: "held",
  why: `água ${id}`,
});
const call = (atMs: number) => bodyFromCall(waitAfterError(SITE.id, "bay", atMs, false).call);
const reading = (atMs: number, value: number, heardMs = atMs + 700, quantity = "slab") => ({
  site: SITE.id,
  node: "bay-1",
  quantity,
  atMs,
  value,
  heardMs,
});

describe("the chain of evidence", () => {
  let folder: string;
  let store: Store;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-chain-"));
    store = openStore(folder);
    store.records.putSite(SITE, NOON_MS);
  });
  afterEach(async () => {
    store.close();
    await rm(folder, { recursive: true, force: true });
  });

  it("links each entry and each call to the one before, by the text that the documents give", () => {
    store.journal.append(SITE.id, entry("e-1", NOON_MS));
    store.journal.append(SITE.id, entry("e-1", NOON_MS + 5));
    store.journal.append(SITE.id, entry("e-2", NOON_MS + 9));
    store.calls.append(SITE.id, call(NOON_MS + 20));
    const first = sha(`${ZEROS}\n${canonical({ ...bodyFromEntry(entry("e-1", NOON_MS)), site: SITE.id })}`);
    const second = sha(`${first}\n${canonical({ ...bodyFromEntry(entry("e-2", NOON_MS + 9)), site: SITE.id })}`);
    expect(store.heads.journal(SITE.id, "2026-02-03").map(({ prev, hash }) => [prev, hash])).toEqual([
      [ZEROS, first],
      [first, second],
    ]);
    expect([...store.journal.hashes(SITE.id)]).toEqual([
      ["e-1", first],
      ["e-2", second],
    ]);
    const shown = sha(`${ZEROS}\n${canonical(call(NOON_MS + 20))}`);
    expect(store.calls.linkedSince(SITE.id, "bay", 0)).toEqual([{ call: call(NOON_MS + 20), hash: shown }]);
  });

  it("forgets a link that was undone", () => {
    expect(() =>
      store.together(() => {
        store.journal.append(SITE.id, entry("e-1", NOON_MS));
        throw new Error("no");
      }),
    ).toThrow("no");
    store.journal.append(SITE.id, entry("e-2", NOON_MS));
    expect(store.heads.journal(SITE.id, "2026-02-03").map(({ prev }) => prev)).toEqual([ZEROS]);
  });

  it("closes a day with a head over journal, calls and readings, each head upon the one before", async () => {
    store.readings.append([
      reading(NOON_MS, 11.5),
      reading(NOON_MS + 60_000, 0.1 + 0.2),
      reading(NOON_MS, 61, NOON_MS + 1, "rh"),
    ]);
    store.journal.append(SITE.id, entry("e-1", NOON_MS));
    expect(await store.heads.closeDays(NOON_MS + 3600_000, () => false)).toEqual([]);
    store.calls.append(SITE.id, call(NOON_MS + 2 * DAY));

    const [head] = await store.heads.closeDays(NOON_MS + DAY, () => false);
    const rh = sha(`["bay-1","rh",${NOON_MS},61,${NOON_MS + 1}]\n`);
    const slab = sha(
      `["bay-1","slab",${NOON_MS},11.5,${NOON_MS + 700}]\n["bay-1","slab",${NOON_MS + 60_000},0.30000000000000004,${NOON_MS + 60_700}]\n`,
    );
    const parts = {
      site: SITE.id,
      day: "2026-02-03",
      prev: ZEROS,
      journal: store.journal.hashes(SITE.id).get("e-1"),
      calls: ZEROS,
      readings: sha(
        canonical([
          ["bay-1", "rh", 1, rh],
          ["bay-1", "slab", 2, slab],
        ]),
      ),
      entries: 1,
      callCount: 0,
      readingCount: 3,
    };
    expect(head).toMatchObject({ ...parts, head: sha(canonical(parts)), closed: true });

    const rest = await store.heads.closeDays(NOON_MS + 3 * DAY, () => false);
    expect(rest.map(({ day, prev, callCount }) => [day, prev, callCount])).toEqual([["2026-02-05", head?.head, 1]]);
    expect(store.heads.heads(SITE.id).map(({ day }) => day)).toEqual(["2026-02-03", "2026-02-05"]);
  });

  it("keeps late readings with the day they were heard, and what was heard in a closed day with the first open one", async () => {
    store.readings.append([reading(NOON_MS, 11.5)]);
    await store.heads.closeDays(NOON_MS + DAY, () => false);
    // Taken yesterday and heard today; and a night file whose readings say that they were heard yesterday.
    store.readings.append([reading(NOON_MS - 5 * DAY, 10, NOON_MS + DAY), reading(NOON_MS + 1000, 12, NOON_MS + 2000)]);
    store.journal.append(SITE.id, entry("late", NOON_MS + 3000));
    const kept = (day: string) =>
      [...store.heads.readings(SITE.id, day)].flatMap(({ rows }) => rows.map(([, value]) => value));
    expect(kept("2026-02-03")).toEqual([11.5]);
    expect(kept("2026-02-04")).toEqual([10, 12]);
    const [first] = store.heads.heads(SITE.id);
    expect([...store.heads.readings(SITE.id, "2026-02-03")].map(digestOf)).toEqual(first?.digests);
    expect(store.heads.journal(SITE.id, "2026-02-04").map(({ day }) => day)).toEqual(["2026-02-04"]);
    store.close();
    store = openStore(folder);
    store.readings.append([reading(NOON_MS + 5000, 13, NOON_MS + 5000)]);
    expect(kept("2026-02-03")).toEqual([11.5]);
    expect(kept("2026-02-04")).toEqual([10, 12, 13]);
    expect(store.heads.openDays(SITE.id, NOON_MS + DAY)).toEqual(["2026-02-04"]);
  });

  it("links at the start what an earlier program kept without", () => {
    store.journal.append(SITE.id, entry("e-1", NOON_MS));
    store.journal.append(SITE.id, entry("e-2", NOON_MS + DAY));
    store.calls.append(SITE.id, call(NOON_MS));
    const before = store.heads.journal(SITE.id, "2026-02-09");
    const calls = store.heads.calls(SITE.id, "2026-02-09");
    store.close();
    const raw = new Libsql(join(folder, "nightslab.sqlite"));
    raw.exec(
      "UPDATE journal SET prev_hash = NULL, hash = NULL, day = NULL; UPDATE calls SET prev_hash = NULL, hash = NULL, day = NULL",
    );
    raw.close();
    store = openStore(folder);
    expect(store.heads.journal(SITE.id, "2026-02-09")).toEqual(before);
    expect(store.heads.calls(SITE.id, "2026-02-09")).toEqual(calls);
  });

  it("tells every version of the record", () => {
    store.records.putSite({ ...SITE, altitudeM: 9 }, NOON_MS + 5);
    expect(store.records.history(SITE.id).map(({ kind, version, fromMs }) => [kind, version, fromMs])).toEqual([
      ["site", 1, NOON_MS],
      ["site", 2, NOON_MS + 5],
    ]);
  });
});
