// The outbox against an engine that misbehaves, and the doors of generations 2 and 3, by a server that speaks the protocol only.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { createInfluxQuery, quoted } from "../../server/store/influx-query.ts";
import { createSender, type Sender } from "../../server/store/influx-sender.ts";
import { type InfluxTarget, targetName } from "../../server/store/influx-target.ts";
import { createInfluxWrite } from "../../server/store/influx-write.ts";
import { type EmbeddedStore, openStore } from "../../server/store/store.ts";
import { type FakeInflux, startFakeInflux } from "../support/fake-influx.ts";
import { until } from "../support/running-app.ts";
import { NOON_MS } from "../support/small-site.ts";

const PATIENCE_MS = 150;
const readings = (count: number, fromMinute = 0) =>
  Array.from({ length: count }, (_, index) => ({
    site: "dock",
    node: "bay-1",
    quantity: "slab",
    atMs: NOON_MS + (fromMinute + index) * 60_000,
    value: (fromMinute + index) / 4,
    heardMs: NOON_MS + (fromMinute + index) * 60_000 + 700,
  }));
/** Minutes of the lines, in their order. */
const minutes = (lines: readonly string[]) => lines.map((line) => (Number(line.split(" ").at(-1)) - NOON_MS) / 60_000);
const upTo = (count: number) => Array.from({ length: count }, (_, index) => index);

describe("an engine that misbehaves", () => {
  let folder: string;
  let store: EmbeddedStore;
  let fake: FakeInflux;
  let sender: Sender | null;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-faults-"));
    store = openStore(folder);
    fake = await startFakeInflux();
    sender = null;
  });
  afterEach(async () => {
    await sender?.close();
    store.close();
    await fake.stop();
    await rm(folder, { recursive: true, force: true });
  });
  const target = (more: Partial<InfluxTarget> = {}): InfluxTarget => ({
    url: fake.url,
    version: 2,
    org: "shed & sons",
    bucket: "slabs",
    database: "slabs-by-name",
    retentionPolicy: null,
    token: "kelp==",
    ...more,
  });
  const start = (to = target(), batch = 64) => {
    store.outbox.aim(targetName(to));
    sender = createSender({
      outbox: store.outbox,
      write: createInfluxWrite(to, PATIENCE_MS),
      nowMs: () => NOON_MS,
      log: { warn: () => undefined, info: () => undefined },
      batch,
      patienceMs: [5, 40],
    });
    return sender;
  };
  const allOut = () => until(() => store.outbox.state().behind === 0 && store.outbox.state().historySeries === 0);

  it.each([
    [
      "1",
      { version: 1, token: "tide:kelp", retentionPolicy: "long" },
      "/write?db=slabs-by-name&rp=long&precision=ms",
      "Basic dGlkZTprZWxw",
    ],
    ["2", {}, "/api/v2/write?org=shed%20%26%20sons&bucket=slabs&precision=ms", "Token kelp=="],
    ["3", { version: 3, org: null }, "/api/v2/write?org=&bucket=slabs&precision=ms", "Token kelp=="],
  ] as const)("is written to at the door of generation %s", async (_, more, path, authorization) => {
    store.readings.append(readings(1));
    await start(target(more)).flush();
    expect(fake.asked).toEqual([
      {
        path,
        authorization,
        lines: [`reading,node=bay-1,quantity=slab,site=dock heard_ms=${NOON_MS + 700}i,value=0 ${NOON_MS}`],
      },
    ]);
  });

  it("is asked in InfluxQL at one door by all generations", async () => {
    fake.answer = () => ({ status: 200, body: '{"results":[{"series":[{"tags":{"node":"a"},"values":[[5,1.5]]}]}]}' });
    for (const version of [1, 2, 3] as const) {
      const to = target({ version, token: "tide:kelp" });
      const rows = await createInfluxQuery(to, 1000, () => 0)("SELECT 1");
      expect(rows).toEqual([{ tags: { node: "a" }, values: [[5, 1.5]] }]);
    }
    expect(fake.asked.map(({ path, authorization }) => `${path} ${authorization}`)).toEqual([
      "/query?db=slabs-by-name&epoch=ms Basic dGlkZTprZWxw",
      "/query?db=slabs-by-name&epoch=ms Token tide:kelp",
      "/query?db=slabs-by-name&epoch=ms Token tide:kelp",
    ]);
    expect(quoted(`a'b\\c`)).toBe(`'a\\'b\\\\c'`);
  });

  it.each([
    [
      "400 that names the dropped ones",
      400,
      '{"error":"partial write: field type conflict: input field \\"value\\" dropped=1"}',
    ],
    [
      "400 as generation 3 says it",
      400,
      '{"error":"partial write of line protocol occurred","data":[{"line_number":9}]}',
    ],
    ["422", 422, '{"code":"unprocessable entity","message":"partial write: points beyond retention policy dropped=1"}'],
    ["201, partial success", 201, "{}"],
    ["413, too large", 413, '{"error":"too long"}'],
  ])("that refuses one point by %s gets all others, and the one is put aside", async (_, status, body) => {
    const isBad = (line: string) => line.includes("value=7.25");
    fake.answer = ({ lines }) => {
      if (!lines.some(isBad)) return { status: 204 };
      // Alone it is refused in every dialect.
      return { status: lines.length === 1 ? Math.max(400, status) : status, body, takes: (line) => !isBad(line) };
    };
    store.readings.append(readings(100));
    start();
    await allOut();
    expect(store.outbox.refused(9).map(({ line }) => isBad(line))).toEqual([true]);
    expect([...new Set(minutes(fake.taken))].sort((a, b) => a - b)).toEqual(
      upTo(100).filter((minute) => minute !== 29),
    );
    expect(sender?.trouble()).toBeNull();
  });

  it("that would keep none of a batch is not asked a hundred times", async () => {
    fake.answer = ({ lines }) => ({
      status: 400,
      body: JSON.stringify({ error: `partial write: points beyond retention policy dropped=${lines.length}` }),
    });
    store.readings.append(readings(64));
    start();
    await allOut();
    expect(fake.asked).toHaveLength(1);
    expect(store.outbox.state().refused).toBe(64);
  });

  it.each([
    ["does not know us", 401, '{"message":"unauthorized access"}'],
    ["has no such bucket", 404, '{"message":"bucket \\"slabs\\" not found"}'],
    ["is full", 507, '{"error":"no space left on device"}'],
    [
      "is full, in the words of generation 1",
      500,
      '{"error":"engine: write /wal/_00001.wal: no space left on device"}',
    ],
    ["is overloaded", 429, '{"error":"slow down"}'],
    ["is starting", 503, '{"error":"not ready"}'],
    ["refuses whatever we say", 400, '{"error":"precision is not among the precisions"}'],
    ["stands behind something else", 200, "<html>hello</html>"],
  ])("that %s keeps everything waiting, in order, and nothing is blamed", async (_, status, body) => {
    fake.answer = () => ({ status, body, takes: () => false });
    store.readings.append(readings(150));
    const out = start();
    await until(() => out.trouble() !== null);
    expect(store.outbox.state()).toMatchObject({ refused: 0, historySeries: 1 });
    store.readings.append(readings(50, 150));
    fake.answer = () => ({ status: 204 });
    await allOut();
    expect(out.trouble()).toBeNull();
    expect(store.outbox.state().refused).toBe(0);
    // What was heard since comes first, then what had been there before.
    expect(new Set(minutes(fake.taken))).toEqual(new Set(upTo(200)));
  });

  it("that never answers is given up after the time it has, and gets the same lines again", async () => {
    store.outbox.aim(targetName(target()));
    store.readings.append(readings(100));
    fake.answer = () => null;
    const out = start();
    await until(() => out.trouble() !== null);
    expect(out.trouble()).toBe("no answer within 0.15 s");
    // It took them and the answer was lost: they come twice, which changes nothing.
    fake.answer = () => ({ status: 204 });
    await allOut();
    expect(minutes(fake.taken)).toEqual(upTo(100));
  });

  it("that is away for long holds one batch in memory and all of it on the disk; the order stays", async () => {
    store.outbox.aim(targetName(target()));
    await fake.stop();
    const out = start();
    for (let part = 0; part < 20; part++) store.readings.append(readings(100, part * 100));
    await until(() => out.trouble() !== null);
    expect(store.outbox.state()).toMatchObject({ behind: 2000, sinceMs: NOON_MS + 700 });
    expect(store.outbox.delivered(NOON_MS)).toBe(false);
    await out.close();
    fake = await startFakeInflux();
    // Another address is another engine: it gets everything from the beginning.
    start();
    await allOut();
    expect(minutes(fake.taken)).toEqual(upTo(2000));
    expect(Math.max(...fake.asked.map(({ lines }) => lines.length))).toBe(64);
    expect(store.outbox.delivered(NOON_MS * 2)).toBe(true);
  });

  it("that asks for patience is left alone for that long", async () => {
    fake.answer = () => ({ status: 503, headers: { "retry-after": "3600" } });
    store.readings.append(readings(3));
    const out = start();
    await until(() => out.trouble() !== null);
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(fake.asked).toHaveLength(1);
  });

  it("does not hold the server up when it stops", async () => {
    fake.answer = () => null;
    store.readings.append(readings(3));
    const out = start();
    await until(() => fake.asked.length === 1);
    await out.close();
    expect(store.outbox.state().historySeries).toBe(1);
  });
});
