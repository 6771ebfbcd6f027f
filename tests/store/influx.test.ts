// A real InfluxDB 1.6 behind the outbox: it keeps the common rules of a store, and whatever befalls it loses nothing.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CallBody } from "#contract/call.ts";
import { createInfluxQuery } from "../../server/store/influx-query.ts";
import { createReach } from "../../server/store/influx-reach.ts";
import { createInfluxReadings } from "../../server/store/influx-readings.ts";
import { createSender, type Sender } from "../../server/store/influx-sender.ts";
import { type InfluxTarget, targetName } from "../../server/store/influx-target.ts";
import { createInfluxWrite, type WriteLines } from "../../server/store/influx-write.ts";
import { type EmbeddedStore, openStore } from "../../server/store/store.ts";
import { type RunningInflux, startInflux } from "../support/influx.ts";
import { until } from "../support/running-app.ts";
import { NOON_MS } from "../support/small-site.ts";
import { storeConformance, type StoreUnderTest } from "./conformance.ts";

const MINUTE = 60_000;
const silent = { warn: () => undefined, info: () => undefined };
let influx: RunningInflux;
let databases = 0;

interface House {
  readonly store: EmbeddedStore;
  readonly target: InfluxTarget;
  readonly folder: string;
  readonly far: ReturnType<typeof createInfluxReadings>;
  sender(wishes?: { batch?: number; write?: WriteLines }): Sender;
  rows(what?: string): Promise<number>;
  end(): Promise<void>;
}

async function openHouse(folder: string, target: InfluxTarget): Promise<House> {
  const store = openStore(folder);
  store.outbox.aim(targetName(target));
  const senders: Sender[] = [];
  return {
    store,
    target,
    folder,
    far: createInfluxReadings(createInfluxQuery(target, 5000, () => performance.now())),
    sender({ batch, write = createInfluxWrite(target, 5000) } = {}) {
      const made = createSender({
        outbox: store.outbox,
        write,
        nowMs: () => NOON_MS,
        log: silent,
        patienceMs: [20, 100],
        ...(batch === undefined ? {} : { batch }),
      });
      senders.push(made);
      return made;
    },
    async rows(what = "reading") {
      const field = what === "reading" ? "value" : "call";
      return ((await influx.ask(`SELECT count("${field}") FROM "${what}"`, target.database))[0]?.[1] ?? 0) as number;
    },
    async end() {
      for (const one of senders) await one.close();
      store.close();
    },
  };
}
const newFolder = () => mkdtemp(join(tmpdir(), "nightslab-influx-store-"));
const newHouse = async () => openHouse(await newFolder(), await influx.database(`dock_${(databases += 1)}`));

const reading = (minute: number, value: number, node = "bay-1") => ({
  site: "dock",
  node,
  quantity: "slab",
  atMs: NOON_MS + minute * MINUTE,
  value,
  heardMs: NOON_MS + minute * MINUTE + 700,
});
const many = (count: number, node = "bay-1") =>
  Array.from({ length: count }, (_, minute) => reading(minute, minute / 8, node));

beforeAll(async () => {
  influx = await startInflux();
});
afterAll(() => influx.stop());

/** What has landed is sent before anybody asks, and every question goes to InfluxDB. */
function underTest(house: House): StoreUnderTest {
  const sender = house.sender();
  const { store, far } = house;
  const sent = async <T>(work: () => T): Promise<T> => {
    const answer = work();
    await sender.flush();
    await sender.flush();
    return answer;
  };
  return {
    readings: { ...far, append: (readings) => sent(() => store.readings.append(readings)) },
    journal: store.journal,
    async reopen() {
      await house.end();
      return underTest(await openHouse(house.folder, house.target));
    },
    async end() {
      await house.end();
      await rm(house.folder, { recursive: true, force: true });
    },
  };
}
storeConformance("InfluxDB 1.6 behind the outbox", async () => underTest(await newHouse()));

describe("InfluxDB 1.6 behind the outbox", () => {
  const houses: House[] = [];
  const open = async () => {
    const house = await newHouse();
    houses.push(house);
    return house;
  };
  afterAll(async () => {
    for (const house of houses) {
      await house.end();
      await rm(house.folder, { recursive: true, force: true });
    }
  });

  it("gets calls as well, with what is worth drawing of them", async () => {
    const { store, sender, target } = await open();
    const conditions = { slabColdC: 12.1, slabHotC: 13.4, airC: 14, rhPct: 61, dewPointC: 6.6, marginK: 5.5 };
    const call = {
      site: "dock",
      zone: "bay",
      at: new Date(NOON_MS).toISOString(),
      call: "wait",
      limiting: "night-dew",
      conditions,
    };
    store.calls.append("dock", call as unknown as CallBody);
    await sender().flush();
    const wanted = 'SELECT "call", "limiting", "margin_k", "zone" FROM "call"';
    expect(await influx.ask(wanted, target.database)).toEqual([[NOON_MS, "wait", "night-dew", 5.5, "bay"]]);
  });

  it("gives a long stretch whole, though it is asked for in parts", async () => {
    const { store, sender, target } = await open();
    const far = createInfluxReadings(
      createInfluxQuery(target, 5000, () => performance.now()),
      1000,
    );
    store.readings.append(many(4500));
    await sender().flush();
    const local = store.readings.range("dock", "bay-1", "slab", 0, NOON_MS * 2);
    expect(await far.range("dock", "bay-1", "slab", 0, NOON_MS * 2)).toEqual(local);
  });

  it("puts a refused point aside with its reason; everything else of the batch arrives", async () => {
    const { store, sender, target, rows } = await open();
    // Another program wrote text where we write numbers, for a part of the time only: those shards refuse our points.
    await influx.writeLine(target.database, `reading,site=dock,node=x,quantity=y value="warm" ${NOON_MS}`);
    store.readings.append([...many(50), ...many(3).map((one) => ({ ...one, atMs: one.atMs - 40 * 86_400_000 }))]);
    const out = sender();
    await out.flush();
    expect(store.outbox.state()).toMatchObject({ behind: 0, refused: 50 });
    expect(store.outbox.refused(1)[0]?.reason).toMatch(/field type conflict/);
    expect(out.delivered()).toBe(3);
    expect(await rows()).toBe(3);
  });

  it("keeps what InfluxDB does not want because it is older than it keeps anything", async () => {
    const { store, sender, target, rows } = await open();
    await influx.ask(`CREATE RETENTION POLICY "short" ON "${target.database}" DURATION 1h REPLICATION 1 DEFAULT`);
    const now = Date.now();
    store.readings.append([...many(20), { ...reading(0, 7), atMs: now, heardMs: now }]);
    await sender().flush();
    expect(store.outbox.state()).toMatchObject({ behind: 0, refused: 20 });
    expect(await rows()).toBe(1);
  });

  it("loses and doubles nothing when it is killed in the middle, again and again, with a restart of the server", async () => {
    const house = await open();
    house.store.readings.append(many(3000));
    let requests = 0;
    let dead = false;
    const write = createInfluxWrite(house.target, 5000);
    const out = house.sender({
      batch: 250,
      async write(lines, signal) {
        if (dead) await influx.restart();
        dead = false;
        requests += 1;
        const answer = write(lines, signal);
        if (requests % 4 !== 0) return answer;
        // Whether the lines were taken or not, the answer is lost on the way.
        dead = true;
        await Promise.all([influx.kill(), answer.catch(() => undefined)]);
        return answer;
      },
    });
    await until(() => house.store.outbox.state().behind === 0);
    if (dead) await influx.restart();
    expect(out.trouble()).toBeNull();
    expect(requests).toBeGreaterThan(12);
    expect(await house.far.range("dock", "bay-1", "slab", 0, NOON_MS * 2)).toEqual(
      house.store.readings.range("dock", "bay-1", "slab", 0, NOON_MS * 2),
    );
  });

  it("answers for what is older than is kept here, and the border shows in no step and no range", async () => {
    const { store, sender, far } = await open();
    store.readings.append(many(600).filter((_, minute) => minute % 100 < 60));
    await sender().flush();
    const whole = createReach(store.readings, null, () => Number.NEGATIVE_INFINITY);
    const thinned = {
      ...store.readings,
      range: (site: string, node: string, quantity: string, fromMs: number, toMs: number) => {
        expect(fromMs).toBeGreaterThanOrEqual(NOON_MS + 333 * MINUTE);
        return store.readings.range(site, node, quantity, fromMs, toMs);
      },
    };
    const reach = createReach(thinned, far, () => NOON_MS + 333 * MINUTE);
    const stretch = ["dock", "bay-1", "slab", NOON_MS + 10 * MINUTE, NOON_MS + 590 * MINUTE] as const;
    expect(await reach.range(...stretch)).toEqual(await whole.range(...stretch));
    const steps = ["dock", "bay-1", "slab", NOON_MS - 7 * MINUTE, 7 * MINUTE, 90] as const;
    const near = await reach.buckets(...steps);
    expect(near).toEqual(await whole.buckets(...steps));
    expect(near.value.filter(({ mean }) => mean === null).length).toBeGreaterThan(20);
    expect(near.outOfReach).toBeNull();
  });

  it("says that older readings are out of reach when it does not answer, and gives what is here", async () => {
    const { store, sender, far } = await open();
    store.readings.append(many(100));
    await sender().flush();
    const reach = createReach(store.readings, far, () => NOON_MS + 50 * MINUTE);
    await influx.kill();
    const { value, outOfReach } = await reach.buckets("dock", "bay-1", "slab", NOON_MS, 10 * MINUTE, 10);
    expect(outOfReach).toMatch(/fetch failed: .*ECONNREFUSED/);
    expect(value.map(({ max }) => max)).toEqual([9, 19, 29, 39, 49, 59, 69, 79, 89, 99].map((minute) => minute / 8));
    expect((await reach.range("dock", "bay-1", "slab", NOON_MS + 60 * MINUTE, NOON_MS * 2)).outOfReach).toBeNull();
    await influx.restart();
  });
});
