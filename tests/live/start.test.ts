// Starting on a folder with a million readings: only what the judge looks at is brought into memory.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openStore } from "../../server/store/store.ts";
import { runApp, valueOf } from "../support/running-app.ts";
import { NODE, NOON_MS, OUTDOORS, SHEET, SITE, ZONE } from "../support/small-site.ts";

const MINUTE = 60_000;
const NODES = 8;
const QUANTITIES = ["slab", "air", "rh"] as const;
const LEVEL = [12, 15, 50] as const;
/** A month by the minute from eight nodes: 1,036,800 readings. */
const MINUTES = 30 * 24 * 60;

describe("a server with a month of readings", () => {
  let data: string;
  beforeAll(async () => {
    data = await mkdtemp(join(tmpdir(), "nightslab-month-"));
    const store = openStore(data);
    store.records.putSite(SITE, 1000);
    store.records.putSheet(SHEET, 1000);
    store.records.putZone(SITE.id, ZONE, 1000);
    store.records.putNode(SITE.id, OUTDOORS, 1000);
    store.records.putZone(SITE.id, { ...ZONE, id: "ramp", name: "Ramp" }, 1000);
    store.records.putNode(SITE.id, { ...NODE, id: "ramp-1", zone: "ramp" }, 1000);
    for (let node = 0; node < NODES; node++) store.records.putNode(SITE.id, { ...NODE, id: `bay-${node}` }, 1000);
    const startMs = NOON_MS - MINUTES * MINUTE;
    for (let day = 0; day < 30; day++) {
      store.together(() => {
        for (let node = 0; node < NODES; node++) {
          for (const [index, quantity] of QUANTITIES.entries()) {
            store.readings.append(
              Array.from({ length: 1440 }, (_, minute) => {
                const atMs = startMs + (day * 1440 + minute) * MINUTE;
                // The air swings with a heater; a probe that lies on the floor does not follow.
                const swing = quantity === "slab" ? 0 : (minute % 90) / 100;
                return {
                  site: SITE.id,
                  node: `bay-${node}`,
                  quantity,
                  atMs,
                  value: (LEVEL[index] as number) + node / 10 + swing,
                  heardMs: atMs + 400,
                };
              }),
            );
          }
        }
      });
    }
    // A probe that fell silent a week ago is not forgotten.
    store.readings.append([
      {
        site: SITE.id,
        node: "ramp-1",
        quantity: "slab",
        atMs: NOON_MS - 7 * 1440 * MINUTE,
        value: 6.5,
        heardMs: NOON_MS - 7 * 1440 * MINUTE,
      },
    ]);
    store.close();
  }, 180_000);
  afterAll(() => rm(data, { recursive: true, force: true }));

  it("starts, judges, and draws the month", async () => {
    const before = performance.now();
    const running = await runApp({ data, empty: true });
    const startedMs = performance.now() - before;
    const [zone] = valueOf(running.app.desk.board(SITE.id)).zones;
    expect(zone?.call.conditions.slabColdC).toBeGreaterThan(10);
    const file = valueOf(running.app.desk.nightFile(SITE.id, "bay")) as { readings: { bn?: string }[] };
    const ramp = valueOf(running.app.desk.nightFile(SITE.id, "ramp")) as { readings: { bn?: string; v?: number }[] };
    expect(ramp.readings).toMatchObject([{ bn: "ramp-1/slab", v: 6.5 }]);
    // 64 hours by the minute of 24 series; not the month.
    expect(file.readings.length).toBeGreaterThan(24 * 62 * 60);
    expect(file.readings.length).toBeLessThan(24 * 80 * 60);

    const asked = performance.now();
    const chart = valueOf(await running.app.desk.series(SITE.id, "bay", NOON_MS - MINUTES * MINUTE, NOON_MS, 500));
    const drawnMs = performance.now() - asked;
    expect(Object.keys(chart.series)).toHaveLength(NODES * QUANTITIES.length);
    expect(chart.conditions.marginK.filter((value) => value !== null).length).toBeGreaterThan(480);
    console.log(
      `started on 1,036,801 readings in ${startedMs.toFixed(0)} ms; 30 days of 24 series to 500 points in ${drawnMs.toFixed(0)} ms`,
    );
    await running.stop();
  });
});
