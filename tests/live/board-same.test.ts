// A zone is written for the board once, and anew as soon as anything of it changes.
import { afterAll, beforeAll, expect, it } from "vitest";
import type { BoardZoneBody } from "#contract/board.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { spotCheck } from "#core/judge/spot-check.ts";
import { runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, SITE, ZONE } from "../support/small-site.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp({ judge: { judgeZone, spotCheck } });
});
afterAll(() => running.end());

const zoneNow = (): BoardZoneBody => valueOf(running.app.desk.board(SITE.id)).zones[0] as BoardZoneBody;
const say = (atMs: number, slabC: number) =>
  running.send([{ bn: `${NODE.id}/`, n: "slab", u: "Cel", t: Math.floor(atMs / 1000), v: slabC }]);
/** What stood before is there no more, and stays away. */
const renewed = async (before: BoardZoneBody) => {
  await until(() => zoneNow() !== before);
  return zoneNow();
};

it("stands while nothing happens, and not a moment longer than something does", async () => {
  await say(running.nowMs(), 14);
  await until(() => zoneNow().lastHeard !== null);
  await running.app.desk.judgedOnce(SITE.id);
  // Ten seconds of the site's time end somewhere: of three asks in a row two lie within the same.
  const asked = [zoneNow(), zoneNow(), zoneNow()];
  expect(asked[0] === asked[1] || asked[1] === asked[2]).toBe(true);

  // A reading of the same second would be a repeat.
  running.moveClock(2000);
  let before = zoneNow();
  const heardMs = Math.floor(running.nowMs() / 1000) * 1000;
  await say(heardMs, 14.2);
  await until(() => Date.parse(zoneNow().lastHeard ?? "") === heardMs);
  expect(zoneNow()).not.toBe(before);

  before = zoneNow();
  const body = { did: "abraded" as const, how: "ground" as const, at: new Date(running.nowMs()).toISOString() };
  valueOf(await running.app.desk.addEntry(SITE.id, { ...body, zone: ZONE.id }, null));
  before = await renewed(before);

  valueOf(await running.app.desk.putZone(SITE.id, { ...ZONE, name: "Bay, renamed" }, "change"));
  expect(zoneNow().zone.name).toBe("Bay, renamed");

  before = zoneNow();
  running.moveClock(11_000);
  expect(zoneNow()).not.toBe(before);

  // What is heard late changes the margins that were shown.
  before = zoneNow();
  await say(running.nowMs() - 30 * 60_000, 13);
  await renewed(before);
});

it("of zones without their past all else is the same", async () => {
  const whole = valueOf(running.app.desk.board(SITE.id));
  const some = valueOf(running.app.desk.board(SITE.id, 0));
  expect(whole.zones[0]?.pastMargin.marginK.length).toBeGreaterThan(0);
  const bare = whole.zones.map(({ past: _past, pastMargin: _margin, revised: _revised, ...zone }) => zone);
  expect(some.zones.map(({ past: _past, pastMargin: _margin, ...zone }) => zone)).toEqual(bare);
  for (const { past, pastMargin } of some.zones) expect([past, pastMargin.marginK]).toEqual([[], []]);
  expect(some.nodes).toEqual(whole.nodes);
  expect(valueOf(running.app.desk.board(SITE.id, 1)).zones[0]).toEqual(whole.zones[0]);
});
