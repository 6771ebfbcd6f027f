// Alarms against simulated truth, on few nights; `npm run study -- --alarms` looks at hundreds.
import { describe, expect, it } from "vitest";
import { harmsOf } from "../../../firmware-sim/alarms/harm.ts";
import { alarmNight, type AlarmNight, laidIn } from "../../../firmware-sim/alarms/night.ts";
import { alarmStudyFigures, announcedOf } from "../../../firmware-sim/alarms/summary.ts";
import { alarmTable } from "../../../firmware-sim/alarms/table.ts";
import { emptyCourse, playNight, STEP_MS } from "../../../firmware-sim/study/play.ts";
import { sampleNight, yearsIn } from "../../../firmware-sim/study/sample.ts";
import { SLOW_EPOXY } from "../../../firmware-sim/scenario/sheets.ts";

const years = yearsIn("tests/reference/weather");
const played = (index: number): AlarmNight => {
  const night = alarmNight(sampleNight(years, 1, index, false), { stepMin: 30, hours: 10 }, () => true);
  if (night === null) throw new Error(`nothing was laid in night ${index}`);
  return night;
};

describe("nights with a coat of the afternoon", () => {
  it("a margin that falls in the evening is announced an hour before, a quiet night wakes nobody more than twice", () => {
    const nights = [played(44), played(0)];
    const harms = announcedOf(nights, "below");
    expect(harms.length).toBeGreaterThan(0);
    for (const { leadH } of harms) expect(leadH).toBeGreaterThanOrEqual(1);
    const { wakes } = alarmStudyFigures(nights);
    expect(wakes.quiet).toBe(1);
    expect(wakes.most).toBeLessThanOrEqual(2);
    expect(alarmTable("few", nights)).toContain("quiet nights 1");
  });

  it("the crew lays it when the floor has looked well for half an hour, and only then", () => {
    const night = sampleNight(years, 1, 44, false);
    const { course } = playNight(night);
    const laid = laidIn(night, course);
    if (laid === null) throw new Error("nothing was laid");
    const step = (laid.pour.fromMs - course.fromMs) / STEP_MS;
    for (let back = 0; back < 6; back++)
      expect(course.marginK[step - back]).toBeGreaterThanOrEqual(laid.sheet.limits.dewMarginK);
    expect(laidIn({ ...night, stage: night.stage }, { ...course, marginK: course.marginK.map(() => 0) })).toBeNull();
  });
});

describe("harm", () => {
  it("is dew for fifteen minutes, a margin half a kelvin short for fifteen, an hour too cold; else the night is quiet", () => {
    const pour = { coat: 0, fromMs: 0, toMs: 0 };
    const over = (marginK: number, coldC: number, steps: number) => {
      const course = emptyCourse(0, 60);
      course.marginK.fill(8);
      course.coldC.fill(15);
      course.hotC.fill(16);
      for (let k = 20; k < 20 + steps; k++) {
        course.marginK[k] = marginK;
        course.coldC[k] = coldC;
      }
      return harmsOf(SLOW_EPOXY, course, pour, 60 * STEP_MS);
    };
    expect(over(8, 15, 0)).toEqual({ harms: [], quiet: true });
    expect(over(2.8, 15, 10)).toEqual({ harms: [], quiet: false });
    expect(over(2, 15, 3).harms).toEqual([{ what: "below", atMs: 22 * STEP_MS }]);
    expect(
      over(-1, 15, 3)
        .harms.map(({ what }) => what)
        .sort(),
    ).toEqual(["below", "dew"]);
    expect(over(-1, 15, 2).harms).toEqual([]);
    const [leastC] = SLOW_EPOXY.limits.slabC;
    expect(over(8, (leastC ?? 0) - 1, 12).harms).toEqual([{ what: "cold", atMs: 31 * STEP_MS }]);
  });
});
