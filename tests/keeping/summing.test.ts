// The running server sums up its past in pauses, stands back while packets wait, and draws the same chart before and after.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import type { SeriesBody } from "#contract/board.ts";
import { createSumming } from "../../server/app-sums.ts";
import { openStore } from "../../server/store/store.ts";
import { counter, runApp, until } from "../support/running-app.ts";
import { NODE, NOON_MS, SITE, ZONE } from "../support/small-site.ts";

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true });
});

/** Someone who sums up and goes on until told not to. */
function houseOf(run: (nowMs: number, turn: () => Promise<boolean>) => Promise<number>) {
  const counts = new Map<string, number>();
  const errors: string[] = [];
  const house = { busy: false, counts, errors };
  const summing = createSumming({
    store: { sums: { run } },
    nowMs: () => NOON_MS,
    busy: () => house.busy,
    log: { error: (_: unknown, message?: string) => void errors.push(message ?? "") },
    count: (name, by) => void counts.set(name, (counts.get(name) ?? 0) + by),
  });
  return { ...house, house, summing };
}

describe("summing up in the running server", () => {
  it("goes on in pauses, stands back while packets wait, and ends where it is when the server stops", async () => {
    let steps = 0;
    const { house, summing, counts } = houseOf(async (nowMs, turn) => {
      expect(nowMs).toBe(NOON_MS);
      while (await turn()) steps += 1;
      return steps;
    });
    summing.tick();
    // The second of two minutes finds the first at work.
    summing.tick();
    await until(() => steps >= 2);
    house.busy = true;
    await new Promise((resolve) => setTimeout(resolve, 100));
    const waiting = steps;
    await new Promise((resolve) => setTimeout(resolve, 150));
    expect(steps).toBe(waiting);
    house.busy = false;
    await until(() => steps > waiting);
    house.busy = true;
    await summing.close();
    expect(counts.get("halfDaysSummed")).toBe(steps);
    summing.tick();
    await new Promise((resolve) => setTimeout(resolve, 60));
    expect(counts.get("halfDaysSummed")).toBe(steps);
  });

  it("says when it fails, and tries again the next minute", async () => {
    let times = 0;
    const { summing, counts, errors } = houseOf(async () => {
      times += 1;
      if (times === 1) throw new Error("the disk is full");
      return 7;
    });
    summing.tick();
    await until(() => counts.get("sumFailures") === 1);
    expect(errors).toEqual(["readings were not summed up"]);
    summing.tick();
    await until(() => counts.get("halfDaysSummed") === 7);
    await summing.close();
  });

  it("changes no chart over HTTP, however often it is asked for", async () => {
    const data = await mkdtemp(join(tmpdir(), "nightslab-summing-"));
    folders.push(data);
    const first = await runApp({ data, shut: true });
    await first.stop();
    const store = openStore(data);
    const startMs = NOON_MS - 12 * 24 * HOUR_MS;
    for (const [index, quantity] of ["slab", "air", "rh"].entries())
      store.readings.append(
        Array.from({ length: 11 * 1440 }, (_, minute) => ({
          ...{ site: SITE.id, node: NODE.id, quantity },
          atMs: startMs + minute * MINUTE_MS,
          value: Math.round(100 * (9 + 20 * index + Math.sin(minute / 400))) / 100,
          heardMs: startMs + minute * MINUTE_MS + 400,
        })).filter(({ atMs }) => Math.floor(atMs / HOUR_MS) % 31 !== 0),
      );
    store.close();
    const running = await runApp({ data, empty: true, pace: 240 });
    const chart = async () => {
      const query = `from=${new Date(startMs + 1234).toISOString()}&to=${new Date(NOON_MS - 3 * 24 * HOUR_MS).toISOString()}&points=180`;
      const answer = await fetch(`${running.httpUrl}/api/v1/sites/${SITE.id}/zones/${ZONE.id}/series?${query}`);
      expect(answer.status).toBe(200);
      return (await answer.json()) as SeriesBody;
    };
    const before = await chart();
    expect(before.stepS).toBeGreaterThan(3600);
    expect(before.conditions.marginK.filter((one) => one !== null).length).toBeGreaterThan(160);
    await until(() => counter(running, "halfDaysSummed") >= 3 * 22);
    expect(await chart()).toEqual(before);
    await running.stop();
  }, 60_000);
});
