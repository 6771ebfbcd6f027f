// The demo holds whenever it is opened: five zones, five different things to say, and still so hours later.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import type { NightFile } from "#contract/night-file.ts";
import { readNightFile } from "#contract/night-file.ts";
import type { Scenario } from "../../../firmware-sim/scenario/scenario.ts";
import { demoNight, heronReach } from "../../../firmware-sim/scenario/heron-reach/demo-night.ts";
import { nightFileOf } from "../../../firmware-sim/scenario/night-file.ts";
import { type HeardReading, readingsUntil } from "../../../firmware-sim/scenario/play.ts";
import { localHourH } from "../../../firmware-sim/scenario/timezone.ts";

const H = 3_600_000;

function read(scenario: Scenario, readings: readonly HeardReading[]): NightFile {
  const file = readNightFile(JSON.parse(JSON.stringify(nightFileOf(scenario, readings, [], scenario.expect))));
  if (!file.ok) throw new Error(JSON.stringify(file.faults));
  return file.value;
}

const calls = (file: NightFile, scenario: Scenario, atMs: number) =>
  Object.fromEntries(
    scenario.zones.map(({ id }) => {
      const { call } = judgeZone(file.log, id, atMs);
      return [id, { call: call.call, limiting: call.limiting }];
    }),
  );

const WANTED = {
  "launch-bay": { call: "wait", limiting: "night-dew" },
  clubroom: { call: "pour", limiting: null },
  workshop: { call: "abrade", limiting: "window-closed" },
  entrance: { call: "finished", limiting: null },
  "oar-store": { call: "wait", limiting: "data-stale" },
};

describe("the demo night", () => {
  // Any hour, both halves of the year, a leap day, a night on which clocks change.
  it.each([
    ["2026-11-25T02:10:31Z", 1],
    ["2026-07-14T13:47:00Z", 1],
    ["2028-02-29T00:00:00Z", 2],
    ["2027-03-14T09:30:00Z", 3],
    ["2026-01-01T19:05:00Z", 4],
  ])("opened at %s with seed %d says its five calls", (opened, seed) => {
    const night = demoNight(Date.parse(opened), seed);
    expect(calls(read(night, night.readings), night, night.openedAtMs)).toEqual(WANTED);
  });

  it("says them also when all the past is heard only at the opening, as late packets", () => {
    const night = demoNight(Date.parse("2026-12-03T17:20:00Z"), 1);
    const late = night.readings.map((reading) => ({ ...reading, heardMs: night.openedAtMs }));
    const opened = new Date(night.openedAtMs).toISOString();
    const journal = night.journal.map((entry) => ({ ...entry, heardAt: opened }));
    expect(calls(read({ ...night, journal }, late), night, night.openedAtMs)).toEqual(WANTED);
  });

  it("keeps them for hours, and through the night only the reason of the bay changes", () => {
    const opened = Date.parse("2026-12-03T17:20:00Z");
    const scenario = heronReach(opened, 1);
    const file = read(scenario, readingsUntil(scenario, opened + 12 * H));
    for (const hours of [1, 3, 5])
      expect(calls(file, scenario, opened + hours * H), `after ${hours} h`).toEqual(WANTED);
    for (const hours of [8, 12]) {
      const now = calls(file, scenario, opened + hours * H);
      expect(now, `after ${hours} h`).toEqual({
        ...WANTED,
        "launch-bay": { call: "wait", limiting: now["launch-bay"]?.limiting },
      });
      expect(["night-dew", "dew-margin", "hand-check"]).toContain(now["launch-bay"]?.limiting);
    }
  });

  it("shows a walk-on time ahead, a window that closed, and a node silent for 97 minutes", () => {
    const night = demoNight(Date.parse("2026-12-03T17:20:00Z"), 1);
    const { log } = read(night, night.readings);
    const at = night.openedAtMs;
    expect(judgeZone(log, "entrance", at).call.film?.walkOnAtMs).toBeGreaterThan(at + 12 * H);
    const workshop = judgeZone(log, "workshop", at).call;
    expect(workshop.window.closesAtMs).toBeLessThan(at);
    expect(workshop.window.earned).toBeGreaterThan(1.2);
    expect(workshop.steps).toEqual(["abrade", "clean"]);
    expect(judgeZone(log, "clubroom", at).call.window.closesAtMs).toBeGreaterThan(at + 12 * H);
    expect(at - (night.readingsOf("oars-1").at(-1)?.atMs ?? 0)).toBe(97 * 60_000);
  });

  it("is the same for the same seed, moved in time, and another for another seed", () => {
    const values = (opened: string, seed: number) =>
      demoNight(Date.parse(opened), seed)
        .readingsOf("bay-1")
        .map((each) => each.value);
    expect(values("2026-12-03T17:20:00Z", 1)).toEqual(values("2026-06-11T04:55:00Z", 1));
    expect(values("2026-12-03T17:20:00Z", 1)).not.toEqual(values("2026-12-03T17:20:00Z", 2));
  });

  it("is opened at about six in the evening, at any hour of the year", () => {
    for (let hour = 0; hour < 24 * 365; hour += 53) {
      const opened = Date.UTC(2026, 0, 1, hour, (hour * 7) % 60);
      const { site } = heronReach(opened, 1);
      expect(
        Math.abs(localHourH(site.timezone, opened) - 18),
        `${new Date(opened).toISOString()} in ${site.timezone}`,
      ).toBeLessThanOrEqual(0.5);
    }
  });
});
