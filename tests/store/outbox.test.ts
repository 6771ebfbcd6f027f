// The outbox: what is due at a time-series engine is noted with the landing, goes out in order, and is forgotten only when it arrived.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type EmbeddedStore, openStore } from "../../server/store/store.ts";
import type { CallBody } from "#contract/call.ts";
import { NOON_MS } from "../support/small-site.ts";

const MINUTE = 60_000;
const reading = (minute: number, value: number, node = "bay-1") => ({
  site: "dock",
  node,
  quantity: "slab",
  atMs: NOON_MS + minute * MINUTE,
  value,
  heardMs: NOON_MS + minute * MINUTE + 700,
});

describe("outbox", () => {
  let folder: string;
  let store: EmbeddedStore;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-outbox-"));
    store = openStore(folder);
  });
  afterEach(async () => {
    store.close();
    await rm(folder, { recursive: true, force: true });
  });
  const reopen = () => {
    store.close();
    store = openStore(folder);
  };
  /** Takes all that is due in batches of `most`: each as `kind: values`. */
  const drain = (most: number): string[] => {
    const out: string[] = [];
    for (let batch = store.outbox.next(most); batch !== null; batch = store.outbox.next(most)) {
      const said =
        batch.kind === "readings" ? batch.items.map(({ value }) => value) : batch.items.map(({ call }) => call.zone);
      out.push(`${batch.kind}: ${said.join(" ")}`);
      batch.done([], NOON_MS);
    }
    return out;
  };

  it("notes nothing as long as nothing is to go anywhere", () => {
    store.readings.append([reading(0, 1)]);
    expect(store.outbox.next(10)).toBeNull();
    expect(store.outbox.delivered(NOON_MS * 2)).toBe(true);
    expect(store.outbox.state()).toEqual({ behind: 0, sinceMs: null, historySeries: 0, refused: 0 });
  });

  it("gives what is due in the order in which it was heard, and once more until it has arrived", () => {
    store.outbox.aim("engine/a");
    store.readings.append([reading(9, 1), reading(3, 2), reading(9, 1), reading(9, 8)]);
    store.readings.append([reading(1, 3, "bay-2")]);
    expect(store.outbox.state()).toEqual({
      behind: 3,
      sinceMs: NOON_MS + 9 * MINUTE + 700,
      historySeries: 0,
      refused: 0,
    });
    expect(store.outbox.next(2)?.items).toEqual([reading(9, 1), reading(3, 2)]);
    reopen();
    const again = store.outbox.next(2);
    expect(again?.items).toEqual([reading(9, 1), reading(3, 2)]);
    again?.done([], NOON_MS);
    expect(drain(2)).toEqual(["readings: 3"]);
    expect(store.outbox.state()).toEqual({ behind: 0, sinceMs: null, historySeries: 0, refused: 0 });
  });

  it("does not note what was undone with its transaction", () => {
    store.outbox.aim("engine/a");
    const half = () =>
      store.together(() => {
        store.readings.append([reading(0, 1)]);
        throw new Error("the roof leaks");
      });
    expect(half).toThrow("the roof leaks");
    expect(store.outbox.next(5)).toBeNull();
  });

  it("knows up to which time everything has arrived", () => {
    store.outbox.aim("engine/a");
    store.readings.append([reading(10, 1), reading(2, 2)]);
    expect([1, 2, 10].map((minute) => store.outbox.delivered(NOON_MS + minute * MINUTE))).toEqual([true, false, false]);
    store.outbox.next(1)?.done([], NOON_MS);
    expect(store.outbox.delivered(NOON_MS + 10 * MINUTE)).toBe(false);
    drain(1);
    expect(store.outbox.delivered(NOON_MS + 10 * MINUTE)).toBe(true);
  });

  it("sends what was there before the target: new readings first, history in steps; another target gets all of it", () => {
    store.readings.append([0, 1, 2, 3, 4].map((minute) => reading(minute, minute)));
    store.readings.append([reading(0, 70, "bay-2")]);
    store.outbox.aim("engine/a");
    store.readings.append([reading(5, 5)]);
    expect(store.outbox.state()).toMatchObject({ behind: 1, historySeries: 2 });
    expect(store.outbox.delivered(NOON_MS - 1)).toBe(true);
    expect(store.outbox.delivered(NOON_MS)).toBe(false);
    expect(drain(2)).toEqual(["readings: 5", "readings: 0 1", "readings: 2 3", "readings: 4", "readings: 70"]);
    store.outbox.aim("engine/a");
    expect(store.outbox.next(5)).toBeNull();
    store.outbox.aim(null);
    store.readings.append([reading(6, 6)]);
    store.outbox.aim("engine/b");
    expect(drain(9)).toEqual(["readings: 0 1 2 3 4 5 6", "readings: 70"]);
  });

  it("sends calls after the readings that led to them", () => {
    store.outbox.aim("engine/a");
    for (const zone of ["bay", "ramp", "slip"])
      store.calls.append("dock", { zone, at: "2026-02-03T12:00:00Z" } as CallBody);
    store.readings.append([reading(0, 1)]);
    expect(store.outbox.state()).toMatchObject({ behind: 4, sinceMs: NOON_MS });
    expect(drain(2)).toEqual(["readings: 1", "calls: bay ramp", "calls: slip"]);
    reopen();
    expect(store.outbox.next(2)).toBeNull();
  });

  it("keeps what was refused, with the reason, and passes over what was deleted meanwhile", () => {
    store.outbox.aim("engine/a");
    store.readings.append([reading(0, 1), reading(1, 2)]);
    store.outbox.next(9)?.done([{ line: "reading value=1", reason: "another type" }], NOON_MS);
    reopen();
    expect(store.outbox.state()).toMatchObject({ behind: 0, refused: 1 });
    expect(store.outbox.refused(5)).toEqual([{ line: "reading value=1", reason: "another type", refusedMs: NOON_MS }]);
  });
});
