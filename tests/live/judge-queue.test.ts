// The queue of zones to judge: what was heard goes first, the round of the minute when nothing else waits.
import { describe, expect, it } from "vitest";
import { createJudgeQueue, type ZoneRef } from "../../server/pipeline-queue.ts";

const zone = (name: string): ZoneRef => ({ site: "s", zone: name });

describe("the queue of zones to judge", () => {
  it("lets a packet pass a thousand zones whose turn it merely is", async () => {
    const judged: string[] = [];
    let nowMs = 0;
    const asked: Promise<void>[] = [];
    const queue = createJudgeQueue(
      ({ zone: name }) => {
        judged.push(name);
        nowMs += 10;
        if (judged.length === 3) asked.push(queue.now(zone("asked")));
        return true;
      },
      () => nowMs,
    );
    for (let index = 0; index < 1000; index++) queue.round(zone(`z${index}`));
    queue.heard(zone("z900"), 0);
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    await Promise.all(asked);
    // Gathered for 50 ms, ten a judging; and whoever waits for an answer is next.
    expect(judged.indexOf("asked")).toBe(3);
    expect(judged.indexOf("z900")).toBeLessThanOrEqual(6);
    expect(judged.filter((name) => name === "z900")).toHaveLength(1);
    expect(judged).toHaveLength(1001);
    queue.close();
  });

  it("keeps one place a zone, and answers everybody when it closes", async () => {
    const judged: string[] = [];
    const queue = createJudgeQueue(
      ({ zone: name }) => judged.push(name) > 0,
      () => 0,
    );
    queue.heard(zone("a"), 1);
    queue.wake(zone("a"));
    queue.round(zone("a"));
    queue.heard(zone("a"), 2);
    expect(queue.waiting()).toBe(1);
    const answered = queue.now(zone("b"));
    queue.close();
    await answered;
    expect(judged).toEqual([]);
    await queue.now(zone("c"));
  });

  it("keeps the turn of the minute of a zone that was only looked at", async () => {
    const turns: string[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      ({ zone: name }, sinceMs, whole) => {
        turns.push(`${name} ${whole ? "whole" : "look"} ${String(sinceMs)}`);
        return whole;
      },
      () => nowMs,
    );
    queue.heard(zone("a"), 1);
    nowMs = 60;
    queue.round(zone("a"));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(turns).toEqual(["a look 1", "a whole null"]);
    // Judged at 60, and so looked at no sooner than at 210.
    queue.heard(zone("a"), 60);
    nowMs = 209;
    await new Promise((resolve) => setTimeout(resolve, 160));
    expect(turns).toHaveLength(2);
    nowMs = 210;
    queue.round(zone("b"));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(turns).toEqual(["a look 1", "a whole null", "a look 60", "b whole null"]);
    queue.close();
  });

  it("gathers longer where packet after packet needs a whole judging, within a second; after a pause as before", async () => {
    const judgedMs: number[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      ({ zone: name }) => {
        if (name === "late") judgedMs.push(nowMs);
        return true;
      },
      () => nowMs,
    );
    const pass = async (untilMs: number) => {
      for (; nowMs < untilMs; nowMs += 10) {
        queue.heard(zone("late"), nowMs);
        // The turn of another zone makes the queue look at the clock.
        queue.round(zone("other"));
        while (queue.waiting() > 1) await new Promise((resolve) => setImmediate(resolve));
      }
    };
    await pass(3000);
    const gaps = judgedMs.slice(1).map((atMs, index) => atMs - (judgedMs[index] as number));
    expect(judgedMs[0]).toBe(50);
    expect(gaps).toEqual([150, 300, 600, 600, 600, 600]);
    judgedMs.length = 0;
    nowMs += 10_000;
    await pass(13_500);
    expect(judgedMs.map((atMs) => atMs - (judgedMs[0] as number))).toEqual([0, 150, 450]);
    queue.close();
  });
});
