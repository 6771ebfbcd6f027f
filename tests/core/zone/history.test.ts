// Past margins: those of a judging are those that are made anew.
import { expect, it } from "vitest";
import { judgeToLook } from "../../../server/core/judge/judge.ts";
import { conditionsHistory, marginsOf } from "../../../server/core/zone/history.ts";
import { HOUR_MS, MINUTE_MS } from "../../support/night-log.ts";
import { randomNight } from "../../support/random-night.ts";

const STEP_MS = 15 * MINUTE_MS;

it("are the same by the timeline of a judging", () => {
  let known = 0;
  for (let seed = 1; seed <= 12; seed++) {
    const { log, nowMs } = randomNight(seed);
    const fromMs = Math.floor(nowMs / STEP_MS) * STEP_MS - 12 * HOUR_MS;
    const { line } = judgeToLook(log, "a", nowMs);
    if (line === undefined) expect.fail("a judging without its timeline");
    const anew = conditionsHistory(log, "a", fromMs, nowMs, STEP_MS, nowMs).marginK;
    expect(marginsOf(line, fromMs, nowMs, STEP_MS)).toEqual(anew);
    known += anew.filter((value) => value !== null).length;
  }
  expect(known).toBeGreaterThan(200);
});
