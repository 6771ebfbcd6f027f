// The embedded store keeps the common rules, and those of its own: one server per folder, all or nothing, a full disk said.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { createLanding, type LandedParcel } from "../../server/store/landing.ts";
import type { Store } from "../../server/store/ports.ts";
import { openStore } from "../../server/store/store.ts";
import { NOON_MS, SHEET, ZONE } from "../support/small-site.ts";
import { storeConformance, type StoreUnderTest } from "./conformance.ts";

const folders: string[] = [];
const newFolder = async () => {
  const folder = await mkdtemp(join(tmpdir(), "nightslab-store-"));
  folders.push(folder);
  return folder;
};
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true });
});

async function underTest(folder: string): Promise<StoreUnderTest> {
  const store = openStore(folder);
  return {
    readings: store.readings,
    journal: store.journal,
    async reopen() {
      store.close();
      return underTest(folder);
    },
    async end() {
      store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
storeConformance("embedded database", async () => underTest(await mkdtemp(join(tmpdir(), "nightslab-store-"))));

const parcel = (values: number[], more: object = {}) => ({
  site: "dock",
  node: "bay-1",
  excerpt: () => "[]",
  readings: values.map((value, index) => ({
    site: "dock",
    node: "bay-1",
    quantity: "slab",
    atMs: NOON_MS + index * 1000,
    value,
  })),
  presence: null,
  refused: [],
  ...more,
});

describe("embedded store", () => {
  it("is held by one server at a time", async () => {
    const folder = await newFolder();
    const store = openStore(folder);
    expect(() => openStore(folder)).toThrow("another server is running on the data folder");
    store.close();
    openStore(folder).close();
  });

  it("keeps all of what belongs together, or nothing", async () => {
    const store = openStore(await newFolder());
    const half = () =>
      store.together(() => {
        store.readings.append([
          { site: "dock", node: "bay-1", quantity: "slab", atMs: NOON_MS, value: 1, heardMs: NOON_MS },
        ]);
        throw new Error("the roof leaks");
      });
    expect(half).toThrow("the roof leaks");
    expect(store.readings.latest("dock")).toEqual([]);
    // The series that was undone with it is made anew.
    const again = [{ site: "dock", node: "bay-1", quantity: "slab", atMs: NOON_MS, value: 2, heardMs: NOON_MS }];
    expect(store.readings.append(again)).toEqual(["stored"]);
    expect(store.readings.latest("dock")).toMatchObject([{ value: 2 }]);
    store.close();
  });

  it("lets the newest version of a record stand, and remembers what was removed", async () => {
    const folder = await newFolder();
    let store = openStore(folder);
    store.records.putSheet(SHEET, 1000);
    store.records.putSheet({ ...SHEET, name: "Body coat, second print" }, 2000);
    store.records.putZone("dock", ZONE, 3000);
    store.records.putZone("dock", { ...ZONE, id: "ramp" }, 3000);
    store.records.removeZone("dock", "ramp", 4000);
    store.close();
    store = openStore(folder);
    expect(store.records.sheets()).toMatchObject([{ fromMs: 2000, body: { name: "Body coat, second print" } }]);
    expect(store.records.zones("dock").map(({ body }) => body)).toEqual([ZONE]);
    expect(store.records.wasRemoved("zone", "dock", "ramp")).toBe(true);
    expect(store.records.wasRemoved("zone", "dock", "bay")).toBe(false);
    store.close();
  });

  it("counts refusals per node and reason, and stays small under a flood of names", async () => {
    const store = openStore(await newFolder());
    const one = (node: string, reason: string) => ({ site: "dock", node, reason, field: "/0/u", excerpt: "[{}]" });
    store.quarantine.add([one("bay-1", "clock"), one("bay-1", "clock"), one("bay-1", "too old")], 5000);
    expect(store.quarantine.list("dock")).toMatchObject([
      { reason: "clock", count: 2, firstMs: 5000, lastMs: 5000 },
      { reason: "too old", count: 1 },
    ]);
    store.together(() =>
      store.quarantine.add(
        Array.from({ length: 2500 }, (_, index) => one(`n-${index}`, "unknown node")),
        6000,
      ),
    );
    expect(store.quarantine.list("dock").length).toBeLessThanOrEqual(2000);
    expect(store.quarantine.list("(others)")[0]?.count).toBe(502);
    store.close();
  });

  it("knows the call that stood at the beginning of a stretch", async () => {
    const store = openStore(await newFolder());
    for (const [at, zone] of [
      ["12:00", "bay"],
      ["13:00", "bay"],
      ["13:30", "ramp"],
      ["14:00", "bay"],
    ] as const) {
      store.calls.append("dock", { zone, at: `2026-02-03T${at}:00Z` } as Parameters<Store["calls"]["append"]>[1]);
    }
    const times = (from: string) =>
      store.calls.since("dock", "bay", Date.parse(`2026-02-03T${from}:00Z`)).map(({ at }) => at.slice(11, 16));
    expect(times("13:30")).toEqual(["13:00", "14:00"]);
    expect(times("11:00")).toEqual(["12:00", "13:00", "14:00"]);
    expect(times("15:00")).toEqual(["14:00"]);
    store.close();
  });
});

describe("landing", () => {
  it("commits what arrives in one turn together, tells it first, and resolves then", async () => {
    const store = openStore(await newFolder());
    let clockMs = 7000;
    const landing = createLanding(store, () => ++clockMs);
    const told: LandedParcel[] = [];
    const first = landing.land(parcel([1, 2]), (landed) => told.push(landed));
    const second = landing.land(parcel([1, 9]), (landed) => told.push(landed));
    expect(told).toEqual([]);
    await Promise.all([first, second]);
    expect(
      told.map(({ heardMs, stored, same, refused }) => ({
        heardMs,
        stored: stored.length,
        same,
        refused: refused.length,
      })),
    ).toEqual([
      { heardMs: 7001, stored: 2, same: 0, refused: 0 },
      { heardMs: 7001, stored: 0, same: 1, refused: 1 },
    ]);
    expect(store.quarantine.list("dock")).toMatchObject([
      { node: "bay-1", reason: "another value stands for this time", count: 1 },
    ]);
    expect(store.readings.range("dock", "bay-1", "slab", 0, NOON_MS * 2).values).toEqual([1, 2]);
    store.close();
  });

  it("rejects what a full disk does not take, says so, and goes on when there is room", async () => {
    const folder = await newFolder();
    openStore(folder).close();
    let store = openStore(folder, { maxPages: 40 });
    let landing = createLanding(store, () => NOON_MS);
    const flood = (node: string) =>
      parcel([], {
        node,
        readings: Array.from({ length: 1500 }, (_, index) => ({
          site: "dock",
          node,
          quantity: "slab",
          atMs: NOON_MS + index,
          value: index,
        })),
      });
    let full: unknown = null;
    let taken = 0;
    for (let index = 0; full === null && index < 50; index++) {
      await landing
        .land(flood(`n-${index}`), () => undefined)
        .then(
          () => (taken += 1),
          (error: unknown) => (full = error),
        );
    }
    expect(String(full)).toMatch(/not stored: .*full/);
    expect(landing.failure()).toMatch(/full/);
    store.close();

    store = openStore(folder);
    expect(store.readings.latest("dock")).toHaveLength(taken);
    landing = createLanding(store, () => NOON_MS);
    await landing.land(flood(`n-${taken}`), () => undefined);
    expect(landing.failure()).toBeNull();
    expect(store.readings.latest("dock")).toHaveLength(taken + 1);
    store.close();
  });

  it("keeps what waits when it is closed, and takes nothing afterwards", async () => {
    const store = openStore(await newFolder());
    const landing = createLanding(store, () => NOON_MS);
    const last = landing.land(parcel([4]), () => undefined);
    landing.close();
    await last;
    await expect(landing.land(parcel([5]), () => undefined)).rejects.toThrow("stopping");
    expect(store.readings.latest("dock")).toMatchObject([{ value: 4 }]);
    store.close();
  });
});
