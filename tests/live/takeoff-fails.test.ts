// A zone whose takeoff throws costs itself only: it says why, the others stand, and the sum says what it leaves out.
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { readerOf } from "#contract/faults.ts";
import { TakeoffSchema } from "#contract/takeoff.ts";
import type { zoneTakeoff as TakeZone } from "#core/takeoff/zone.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";
import { SITE, ZONE } from "../support/small-site.ts";

vi.mock("#core/takeoff/zone.ts", async (original) => {
  const real = await original<{ readonly zoneTakeoff: typeof TakeZone }>();
  const zoneTakeoff: typeof TakeZone = (log, zone, nowMs) => {
    if (zone === "cursed") throw new RangeError("areaM2 must be above zero");
    return real.zoneTakeoff(log, zone, nowMs);
  };
  return { ...real, zoneTakeoff };
});

let running: RunningApp;
beforeAll(async () => {
  running = await runApp();
  valueOf(await running.app.desk.putZone(SITE.id, { ...ZONE, id: "cursed", name: "Cursed" }, "add"));
});
afterAll(() => running.end());

it("of a site", () => {
  const all = valueOf(running.app.desk.takeoff(SITE.id, null));
  expect(readerOf(TakeoffSchema)(all)).toMatchObject({ ok: true });
  expect(all.failed).toEqual([{ zone: "cursed", name: "Cursed", reason: "areaM2 must be above zero" }]);
  expect(all.zones.map(({ zone }) => zone)).toEqual([ZONE.id]);
  expect(all.order.map(({ areaM2 }) => areaM2 % ZONE.areaM2)).toEqual(all.order.map(() => 0));
});

it("of the zone alone, which has nothing else to show", () => {
  expect(running.app.desk.takeoff(SITE.id, "cursed")).toMatchObject({
    ok: false,
    refusal: "conflict",
    faults: [{ field: "/zone", reason: "areaM2 must be above zero" }],
  });
});
