// A call that was shown and would have been another with what was heard late: marked beside, the record as it was.
import { expect, it } from "vitest";
import type { CallBody } from "#contract/call.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { revisedOf, shownMoments } from "../../server/live/revised.ts";
import { runApp, until, valueOf } from "../support/running-app.ts";
import { pack, SITE, ZONE } from "../support/small-site.ts";

const NOON = Date.UTC(2026, 1, 3, 12);
const at = (minute: number) => NOON + minute * 60_000;
const shown = (minute: number, call: CallBody["call"]) =>
  ({ at: isoFromMs(at(minute)), call, limiting: null }) as CallBody;

it("compares moments at which a call was shown, and joins what stays the same", () => {
  const recorded = [shown(-70, "pour"), shown(-20, "wait")];
  const parts = { recorded, runs: [{ startedMs: at(-80), aliveMs: at(0) }], fromMs: at(-600), nowMs: at(0) };
  expect(shownMoments(parts)).toEqual([-60, -45, -30, -15].map(at));
  const wait = { call: "wait", limiting: "dew-margin" } as const;
  const revised = new Map([-60, -45, -30, -15].map((minute) => [at(minute), wait]));
  expect(revisedOf(parts, revised)).toEqual([
    {
      from: isoFromMs(at(-60)),
      to: isoFromMs(at(-15)),
      call: "pour",
      limiting: null,
      wouldBe: "wait",
      wouldBeLimiting: "dew-margin",
    },
  ]);
  expect(revisedOf(parts, new Map([[at(-15), wait]]))).toEqual([]);
});

it("stands on the zone page after a late packet, while the strip keeps what was shown", async () => {
  const running = await runApp();
  const page = () => valueOf(running.app.desk.zonePage(SITE.id, ZONE.id));
  const startMs = Math.round(running.nowMs());
  await running.send(pack(startMs, { slab: 12 }));
  await until(() => page().call.call === "pour");
  running.moveClock(40 * 60_000);
  await running.send(pack(startMs + 39 * 60_000, { slab: 12 }));
  expect(page().revised).toEqual([]);
  // Measured sixteen minutes after the first one, heard only now: the slab was too cold then.
  await running.send(pack(startMs + 16 * 60_000, { slab: 8 }));
  await until(() => (page().revised ?? []).length > 0);
  const { past, revised = [] } = page();
  expect(revised).toMatchObject([{ from: isoFromMs(at(30)), call: "pour", wouldBe: "wait" }]);
  const stood = past.filter(({ hindsight, from }) => !hindsight && Date.parse(from) <= startMs + 60_000);
  expect(stood.map(({ call }) => call)).toContain("pour");
  expect(past.some(({ hindsight, from }) => hindsight && Date.parse(from) > startMs)).toBe(false);
  await running.end();
});
