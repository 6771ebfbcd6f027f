// The whole server with an InfluxDB beside it: it never waits for it, says how it stands, and draws what is older than it keeps.
import { rm } from "node:fs/promises";
import { join } from "node:path";
import Libsql from "libsql";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { SeriesBody } from "#contract/board.ts";
import { targetName } from "../../server/store/influx-target.ts";
import { openStore } from "../../server/store/store.ts";
import { type RunningInflux, startInflux } from "../support/influx.ts";
import { counter, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, NOON_MS, pack, SITE, ZONE } from "../support/small-site.ts";

const HOUR = 3_600_000;
const OLD_MS = NOON_MS - 60 * 24 * HOUR;

describe("the server with an InfluxDB", () => {
  let influx: RunningInflux;
  let running: RunningApp;
  beforeAll(async () => {
    influx = await startInflux();
    const { token } = await influx.database("slabs");
    running = await runApp({
      settings: {
        influxUrl: influx.url,
        influxVersion: 1,
        influxDatabase: "slabs",
        influxToken: token,
        keepRawDays: 30,
      },
    });
  });
  afterAll(async () => {
    await running.end();
    await influx.stop();
  });
  const part = () => running.app.desk.health().parts["influx"];
  const behind = () => counter(running, "influxBehind");
  const chart = async (fromMs: number, toMs: number, points: number) => {
    const query = `from=${new Date(fromMs).toISOString()}&to=${new Date(toMs).toISOString()}&points=${points}`;
    const answer = await fetch(`${running.httpUrl}/api/v1/sites/${SITE.id}/zones/${ZONE.id}/series?${query}`);
    expect(answer.status).toBe(200);
    return (await answer.json()) as SeriesBody;
  };

  it("sends what lands and the calls made of it", async () => {
    await running.send(pack(Math.round(running.nowMs()) - 1000, { slab: 12.5 }));
    await until(async () => (await influx.ask('SELECT "value" FROM "reading"', "slabs")).length === 3);
    await until(async () => (await influx.ask(`SELECT "call" FROM "call" WHERE "call" = 'pour'`, "slabs")).length > 0);
    await until(() => behind() === 0 && part()?.detail === null);
    expect(part()?.state).toBe("up");
  });

  it("acknowledges, judges and stays up while InfluxDB is away, and catches up by itself", async () => {
    await influx.kill();
    running.moveClock(60_000);
    await running.send(pack(Math.round(running.nowMs()) - 500, { slab: 13.25 }));
    await until(() => valueOf(running.app.desk.board(SITE.id)).zones[0]?.call.conditions.slabColdC === 13.25);
    await until(() => part()?.state === "degraded");
    expect(part()?.detail).toMatch(
      /^behind by \d+ points since 2026-02-03T1\d:\d\d:.*; last error: connect ECONNREFUSED/,
    );
    expect((await fetch(`${running.httpUrl}/api/v1/health`)).status).toBe(200);
    expect(await (await fetch(`${running.httpUrl}/api/v1/metrics`)).text()).toMatch(/^nightslab_influx_behind [1-9]/m);
    await influx.restart();
    await until(() => part()?.state === "up" && behind() === 0);
    expect(await influx.ask('SELECT "value" FROM "reading" WHERE "value" = 13.25', "slabs")).toHaveLength(1);
  });

  it("draws from InfluxDB what is older than it keeps, and says when that is out of reach", async () => {
    const data = running.data;
    await running.stop();
    // Two months ago: heard, delivered, and since then deleted here.
    const store = openStore(data);
    store.readings.append(
      Array.from({ length: 60 }, (_, minute) => ({
        ...{ site: SITE.id, node: NODE.id, quantity: "slab", value: minute < 20 || minute >= 40 ? 8 + minute / 64 : 9 },
        atMs: OLD_MS + minute * 60_000,
        heardMs: OLD_MS + minute * 60_000 + 500,
      })).filter(({ value }) => value !== 9),
    );
    store.close();
    const settings = {
      influxUrl: influx.url,
      influxVersion: 1,
      influxDatabase: "slabs",
      influxToken: (await influx.database("slabs")).token,
      keepRawDays: 30,
    };
    running = await runApp({ data, settings, empty: true, atMs: NOON_MS + 10 * 60_000 });
    const steps = [
      { min: 8, mean: 8.15, max: 8.3 },
      { min: null, mean: null, max: null },
      { min: 8.63, mean: 8.77, max: 8.92 },
    ];
    const old = async () => {
      const { series, outOfReach = null } = await chart(OLD_MS, OLD_MS + HOUR, 3);
      return { steps: series[`${NODE.id}/slab`], outOfReach };
    };
    await until(() => behind() === 0);
    const other = new Libsql(join(data, "nightslab.sqlite"));
    other.exec(`DELETE FROM readings WHERE at_ms < ${NOON_MS - 40 * 24 * HOUR}`);
    other.close();
    expect(await old()).toEqual({ steps, outOfReach: null });

    await influx.kill();
    const lost = await old();
    expect(lost.outOfReach).toMatchObject({ before: expect.stringMatching(/^2026-01-04T13:1/) as string });
    expect(lost.outOfReach?.why).toContain("ECONNREFUSED");
    expect(lost.steps?.map(({ mean }) => mean)).toEqual([null, null, null]);
    // What is kept here needs nobody.
    expect((await chart(NOON_MS - HOUR, NOON_MS, 3)).outOfReach).toBeUndefined();
    await influx.restart();
  });

  it("forgets what was due when there is no InfluxDB any more, and sends it all to another one", async () => {
    const data = running.data;
    await running.stop();
    running = await runApp({ data, empty: true, atMs: NOON_MS + 20 * 60_000 });
    expect(running.app.desk.health().parts["influx"]).toBeUndefined();
    await running.stop();
    const store = openStore(data);
    expect(store.outbox.next(5)).toBeNull();
    store.outbox.aim(targetName(await influx.database("others")));
    expect(store.outbox.state().historySeries).toBe(3);
    store.close();
    await rm(data, { recursive: true, force: true });
  });
});
