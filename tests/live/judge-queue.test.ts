// The queue of zones to judge: what was heard goes first, the round of the minute when nothing else waits.
import { describe, expect, it } from "vitest";
import { createJudgeQueue, type QueueWork, type ZoneRef } from "../../server/pipeline-queue.ts";

/** Every look is too little where it says so. */
const work = (turn: (zone: ZoneRef, sinceMs: number | null, isWhole: boolean) => boolean): QueueWork => ({
  look: (one, sinceMs) => turn(one, sinceMs, false),
  judge: (one, sinceMs) => void turn(one, sinceMs, true),
});
const zone = (name: string): ZoneRef => ({ site: "s", zone: name });

describe("the queue of zones to judge", () => {
  it("lets a packet pass a thousand zones whose turn it merely is", async () => {
    const judged: string[] = [];
    let nowMs = 0;
    const asked: Promise<void>[] = [];
    const queue = createJudgeQueue(
      work(({ zone: name }, _since, isWhole) => {
        if (!isWhole) return false;
        judged.push(name);
        nowMs += 10;
        if (judged.length === 3) asked.push(queue.now(zone("asked")));
        return true;
      }),
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
      work(({ zone: name }) => judged.push(name) > 0),
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
      work(({ zone: name }, sinceMs, isWhole) => {
        turns.push(`${name} ${isWhole ? "whole" : "look"} ${String(sinceMs)}`);
        return true;
      }),
      () => nowMs,
    );
    queue.heard(zone("a"), 1);
    nowMs = 60;
    queue.round(zone("a"));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(turns).toEqual(["a look 1", "a whole null"]);
    // The turn of the minute keeps no packet waiting: what comes after it is looked at as soon as any.
    queue.heard(zone("a"), 60);
    nowMs = 109;
    queue.round(zone("b"));
    while (queue.waiting() > 1) await new Promise((resolve) => setImmediate(resolve));
    expect(turns.slice(2)).toEqual(["b whole null"]);
    nowMs = 110;
    queue.round(zone("c"));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(turns.slice(3)).toEqual(["a look 60", "c whole null"]);
    queue.close();
  });

  it("lets looks that are due go before each whole judging: for 10 ms, or as long as the last judging took", async () => {
    const turns: string[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      work(({ zone: name }, _since, isWhole) => {
        turns.push(`${name} ${isWhole ? "whole" : "look"} ${nowMs}`);
        nowMs += isWhole ? 40 : 20;
        return isWhole || !name.startsWith("bad");
      }),
      () => nowMs,
    );
    queue.heard(zone("bad"), 0);
    queue.wake(zone("woken"));
    queue.round(zone("minute"), 50);
    nowMs = 50;
    for (let index = 0; index < 30; index++) queue.heard(zone(`good-${index}`), 50);
    nowMs = 150;
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(turns.slice(0, 5)).toEqual([
      "bad look 150",
      "bad whole 170",
      "good-0 look 210",
      "good-1 look 230",
      "woken whole 250",
    ]);
    // What is merely due by the minute waits until nothing else does.
    expect(turns.at(-1)).toMatch(/^minute whole/);
    expect(turns).toHaveLength(34);
    queue.close();
  });

  it("lets land what was read while a zone was judged, before it judges another", async () => {
    const order: string[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      work(({ zone: name }) => {
        order.push(name);
        nowMs += 30;
        // Whatever is read in the turn after this one lands at the end of that turn.
        setImmediate(() => setImmediate(() => order.push(`landed after ${name}`)));
        return true;
      }),
      () => nowMs,
    );
    for (const name of ["a", "b", "c"]) queue.round(zone(name));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(order).toEqual(["a", "landed after a", "b", "landed after b", "c"]);
    queue.close();
  });

  it("judges who has changed and who only asks anew by turns, where many wait", async () => {
    const judged: string[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      {
        ...work(({ zone: name }, _since, isWhole) => {
          if (isWhole) judged.push(name);
          nowMs += isWhole ? 40 : 0;
          return isWhole;
        }),
        isAged: ({ zone: name }) => name.startsWith("aged"),
      },
      () => nowMs,
    );
    for (let index = 0; index < 50; index++) queue.heard(zone(`aged-${index}`), 0);
    for (let index = 0; index < 3; index++) queue.heard(zone(`changed-${index}`), 0);
    // Whoever is woken has changed, whatever its look said.
    queue.wake(zone("aged-49"));
    nowMs = 200;
    queue.round(zone("minute"));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(judged.slice(0, 8)).toEqual([
      ...["aged-49", "aged-0", "changed-0", "aged-1", "changed-1", "aged-2", "changed-2", "aged-3"],
    ]);
    expect(judged.at(-1)).toBe("minute");
    expect(judged).toHaveLength(54);
    queue.close();
  });

  it("judges a silent zone all the same, however many ask to be judged", async () => {
    const judged: { readonly name: string; readonly atMs: number }[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      work(({ zone: name }, _since, isWhole) => {
        if (!isWhole) return false;
        judged.push({ name, atMs: nowMs });
        nowMs += 100;
        return true;
      }),
      () => nowMs,
    );
    for (let index = 0; index < 10; index++) queue.round(zone(`silent-${index}`));
    for (let turn = 0; nowMs < 60_000; turn++) {
      for (let index = 0; index < 20; index++) queue.heard(zone(`loud-${(turn + index) % 100}`), nowMs);
      await new Promise((resolve) => setImmediate(resolve));
    }
    const silent = judged.filter(({ name, atMs }) => name.startsWith("silent") && atMs > 1000).map(({ atMs }) => atMs);
    expect(silent.length).toBeGreaterThan(0);
    expect(silent[0]).toBeGreaterThanOrEqual(30_000);
    for (const atMs of silent) expect(atMs).toBeLessThan(35_000);
    expect(new Set(judged.filter(({ name }) => name.startsWith("silent"))).size).toBe(10);
    queue.close();
  });

  it("leaves the turn of the minute of a zone out that was judged a moment ago", async () => {
    const judged: string[] = [];
    const queue = createJudgeQueue(
      { ...work(({ zone: name }) => judged.push(name) > 0), isFresh: ({ zone: name }) => name === "fresh" },
      () => 0,
    );
    for (const name of ["fresh", "other"]) queue.round(zone(name));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(judged).toEqual(["other"]);
    queue.close();
  });

  it("takes several zones with packets in a turn that came late: for half of what it waited, a tenth of a second at most", async () => {
    const judged: string[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      work(({ zone: name }) => {
        judged.push(name);
        nowMs += 10;
        return true;
      }),
      () => nowMs,
    );
    const turnAfter = async (lateMs: number) => {
      judged.length = 0;
      nowMs += lateMs;
      await new Promise((resolve) => setImmediate(resolve));
      return judged.length;
    };
    for (let index = 0; index < 100; index++) queue.heard(zone(`z${index}`), 0);
    nowMs = 500;
    // It makes the queue look at the clock.
    queue.round(zone("round"));
    expect(await turnAfter(0)).toBe(1);
    expect(await turnAfter(10)).toBe(1);
    expect(await turnAfter(60)).toBe(3);
    expect(await turnAfter(5000)).toBe(10);
    expect(await turnAfter(0)).toBe(1);
    queue.close();
  });

  it("gathers before the first judging already where a node brings what it buffered; until all is quiet at most", async () => {
    const judgedMs: number[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      work(({ zone: name }, _since, isWhole) => {
        if (isWhole && name === "brings") judgedMs.push(nowMs);
        return isWhole;
      }),
      () => nowMs,
    );
    /** `packets` of the zone each ten milliseconds, and the turn of another zone that makes the queue look at the clock. */
    const pass = async (untilMs: number, packets: number) => {
      for (; nowMs < untilMs; nowMs += 10) {
        for (let packet = 0; packet < packets; packet++) queue.heard(zone("brings"), nowMs);
        queue.round(zone("other"));
        while (queue.waiting() > 1) await new Promise((resolve) => setImmediate(resolve));
      }
    };
    await pass(1000, 10);
    // Whatever came at 0 is judged within a second.
    expect(judgedMs).toEqual([600]);
    // The last packet came at 990: a tenth of a second later all is quiet.
    while (judgedMs.length < 2 && nowMs < 3000) {
      queue.round(zone("other"));
      await new Promise((resolve) => setImmediate(resolve));
      await new Promise((resolve) => setImmediate(resolve));
      nowMs += 10;
    }
    expect(judgedMs[1]).toBeGreaterThanOrEqual(1090);
    expect(judgedMs[1]).toBeLessThanOrEqual(1110);
    // Nineteen packets at once are no flood.
    judgedMs.length = 0;
    nowMs = 20_000;
    for (let packet = 0; packet < 19; packet++) queue.heard(zone("brings"), nowMs);
    await new Promise((resolve) => setImmediate(resolve));
    nowMs = 20_050;
    queue.round(zone("other"));
    while (queue.waiting() > 0) await new Promise((resolve) => setImmediate(resolve));
    expect(judgedMs).toEqual([20_050]);
    queue.close();
  });

  it("gathers longer where packet after packet needs a whole judging, within a second; when all is quiet, and after a pause, as before", async () => {
    const judgedMs: number[] = [];
    let nowMs = 0;
    const queue = createJudgeQueue(
      work(({ zone: name }, _since, isWhole) => {
        if (isWhole && name === "late") judgedMs.push(nowMs);
        return isWhole;
      }),
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
    expect(gaps).toEqual([150, 600, 600, 600, 600]);
    // 2,600: what came since is due 600 ms after it, and a tenth of a second after the last packet if no other comes.
    expect(judgedMs.at(-1)).toBe(2600);
    const lastHeardMs = nowMs - 10;
    for (; nowMs < 3300; nowMs += 10) {
      queue.round(zone("other"));
      while (queue.waiting() > 1) await new Promise((resolve) => setImmediate(resolve));
      if (judgedMs.at(-1) !== 2600) break;
    }
    expect(judgedMs.at(-1)).toBe(lastHeardMs + 100);
    judgedMs.length = 0;
    nowMs = 13_000;
    await pass(14_000);
    expect(judgedMs.map((atMs) => atMs - (judgedMs[0] as number))).toEqual([0, 150, 750]);
    queue.close();
  });
});
