// Second opinions on the whole server: what the sensors page shows of them, days later and after a start as well.
import { afterAll, describe, expect, it } from "vitest";
import { readNightFile } from "#contract/night-file.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { topicOf } from "#contract/topics.ts";
import { zoneState } from "#core/zone/state.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { NODE, NOON_MS, pack, SITE } from "../support/small-site.ts";

const HOUR = 3_600_000;
let running: RunningApp | null = null;
afterAll(() => running?.end());

describe("a hand reading far from the probe", () => {
  it("is shown with its offset, and the doubt outlives memory and a start", async () => {
    running = await runApp();
    let app = running;
    const topic = topicOf({ kind: "senml", site: SITE.id, node: NODE.id });
    const round = () => app.send(pack(Math.round(app.nowMs()) - 2000), { topic });
    const sensors = () => valueOf(app.app.desk.sensors(SITE.id));
    const doubts = () => sensors().sensors.flatMap((one) => one.doubts.map(({ probe, kind }) => `${probe} ${kind}`));
    const say = (body: object) =>
      app.app.desk.addEntry(SITE.id, { at: isoFromMs(Math.round(app.nowMs())), zone: "bay", ...body } as never, "Ida");

    await round();
    expect(await say({ did: "measured", slabC: 9, probe: "yard-9/slab" })).toMatchObject({ ok: false });
    valueOf(await say({ did: "measured", slabC: 9.1, instrument: "meter 4", probe: "bay-1/slab" }));
    valueOf(
      await say({ did: "salt-checked", probe: "bay-1/rh", salt: "sodium-chloride", soakH: 12, readPct: 72, airC: 20 }),
    );
    const [zone] = sensors().zones;
    expect(zone).toMatchObject({
      zone: "bay",
      opinions: [{ probe: "bay-1/slab", of: "slab", probeSaid: 12.1, handSaid: 9.1, within: false, hopeful: true }],
      // 72 read over 75.47, the point at 20 °C by J. Res. NBS 81A 89 (1977).
      saltChecks: [{ probe: "bay-1/rh", errorPct: expect.closeTo(-3.47, 6), valid: true }],
      bagged: [],
    });
    expect(zone?.opinions[0]?.offset).toBeCloseTo(3, 9);
    expect(doubts()).toEqual(["bay-1/slab off-from-hand"]);

    for (let days = 1; days <= 4; days++) {
      app.moveClock(24 * HOUR);
      await round();
    }
    valueOf(await say({ did: "cleaned" }));
    expect(doubts()).toEqual(["bay-1/slab off-from-hand"]);

    // The night file carries what the probe said then: whoever judges it again doubts the same probe.
    const read = readNightFile(JSON.parse(JSON.stringify(valueOf(app.app.desk.nightFile(SITE.id, "bay")))));
    if (!read.ok) expect.fail(JSON.stringify(read.faults));
    const moment = { nowMs: app.nowMs(), heardByMs: app.nowMs() };
    expect(zoneState(read.value.log, "bay", moment).trust.doubts).toMatchObject([
      { kind: "off-from-hand", measured: expect.closeTo(3, 9) },
    ]);

    const { data } = app;
    await app.stop();
    running = await runApp({ data, empty: true, atMs: NOON_MS + 98 * HOUR });
    app = running;
    await round();
    expect(doubts()).toEqual(["bay-1/slab off-from-hand"]);
    valueOf(await say({ did: "measured", slabC: 12, probe: "bay-1/slab" }));
    expect(doubts()).toEqual([]);
    expect(sensors().zones[0]?.opinions).toHaveLength(2);
  });
});
