// A tiny study from end to end: its counts add up, it is the same over processes as in one, and its table tells all of it.
import { describe, expect, it } from "vitest";
import type { StudyMoment } from "../../../firmware-sim/study/moment.ts";
import { runStudy } from "../../../firmware-sim/study/run.ts";
import { blockers, comeBackFigures, nightFigures, pourFigures } from "../../../firmware-sim/study/summary.ts";
import { tableOf } from "../../../firmware-sim/study/table.ts";

const plan = { weather: "tests/reference/weather", seed: 5, nights: 3, faults: true };
const here = await runStudy({ ...plan, workers: 0 }, () => undefined);
const timeless = (moments: readonly StudyMoment[]) => moments.map((moment) => ({ ...moment, tookMs: 0 }));

describe("a study of three nights", () => {
  it("asks every moment of every night, in order", () => {
    expect(new Set(here.map(({ night }) => night))).toEqual(new Set([0, 1, 2]));
    expect(here.length).toBeGreaterThan(3 * 13);
    const keys = here.map(({ night, askMs }) => night * 1e14 + askMs);
    expect(keys).toEqual([...keys].sort((a, b) => a - b));
  });

  it("has figures that add up", () => {
    const fit = here.filter(({ truth }) => truth.fit);
    const comfortable = here.filter(({ truth }) => truth.comfortable);
    expect(comfortable.every(({ truth }) => truth.fit)).toBe(true);
    expect(fit.every(({ truth }) => truth.holds && truth.hard.length === 0 && !truth.soft)).toBe(true);
    for (const caller of ["ours", "present", "yesterday"] as const) {
      const figures = pourFigures(here, caller);
      expect(figures.fitCalled).toBeLessThanOrEqual(Math.min(figures.pours, fit.length));
      expect(figures.comfortableMissed).toBeLessThanOrEqual(comfortable.length);
      expect(Math.max(figures.hard, figures.soft)).toBeLessThanOrEqual(figures.pours);
    }
    expect(here.filter(({ yesterday, present }) => yesterday && !present)).toEqual([]);
    const stopped = here.filter(({ call }) => call !== "pour").length;
    expect(blockers(here).reduce((sum, { limiting }) => sum + limiting, 0)).toBe(stopped);
    const night = nightFigures(here);
    expect(night.reliability.reduce((sum, { count }) => sum + count, 0)).toBe(night.cases);
    expect(night.coverage.share + night.below + night.above).toBeCloseTo(1, 12);
    const back = comeBackFigures(here);
    expect(back.untold.reduce((sum, { limiting }) => sum + limiting, 0)).toBe(back.cases - back.told);
  });

  it("is told in one table with its seed and its goals", () => {
    const table = tableOf("seed 5, faults", here, true);
    expect(table).toContain(`3 nights, ${here.length} moments`);
    expect(table).toContain("goal >= 88 %");
    expect(table).toMatch(/by fault/);
    expect(table).not.toMatch(/NaN|undefined/);
  });

  it("comes out the same from two processes", async () => {
    const there = await runStudy({ ...plan, workers: 2 }, () => undefined);
    // Over the border between processes absent and undefined are one.
    expect(timeless(there)).toEqual(JSON.parse(JSON.stringify(timeless(here))));
  }, 120_000);
});
