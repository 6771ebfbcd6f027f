// Heads that go outside: in their order, again after a failure, and only what somebody took counts as taken.
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, describe, expect, it } from "vitest";
import { createAnchor, type HeadToSend, webHookSender } from "../../server/record/anchor.ts";

const head = (day: string): HeadToSend => ({ site: "dock", day, head: "ab".repeat(32) });

describe("an anchor outside", () => {
  const closers: (() => void)[] = [];
  afterEach(() => {
    for (const close of closers.splice(0)) close();
  });
  const hook = async (answer: (body: string) => number) => {
    const server = createServer((request, response) => {
      const parts: Buffer[] = [];
      request.on("data", (part: Buffer) => parts.push(part));
      request.on("end", () => {
        response.statusCode = answer(`${request.method} ${Buffer.concat(parts).toString("utf8")}`);
        response.end();
      });
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    closers.push(() => server.close());
    return `http://127.0.0.1:${(server.address() as AddressInfo).port}/heads`;
  };

  it("is told every head in its order, and told again what it did not take, later each time", async () => {
    const told: string[] = [];
    let works = false;
    const url = await hook((body) => {
      told.push(body);
      return works ? 204 : 503;
    });
    let waiting = [head("2026-02-03"), head("2026-02-04")];
    let nowMs = 0;
    const failures: unknown[] = [];
    const anchor = createAnchor({
      waiting: () => waiting,
      taken: (one) => (waiting = waiting.filter(({ day }) => day !== one.day)),
      sender: webHookSender(url),
      steadyMs: () => nowMs,
      failed: (error) => failures.push(error),
    });
    await anchor.tick();
    expect(anchor.health()).toEqual({ state: "degraded", detail: "heads of 2 days wait: answered 503" });
    await anchor.tick();
    expect(told.length).toBe(1);
    nowMs = 60_000;
    await anchor.tick();
    nowMs = 120_000;
    await anchor.tick();
    expect([told.length, failures.length]).toEqual([2, 2]);
    works = true;
    nowMs = 180_000;
    await anchor.tick();
    expect(told.slice(2)).toEqual([
      `POST ${JSON.stringify(head("2026-02-03"))}`,
      `POST ${JSON.stringify(head("2026-02-04"))}`,
    ]);
    expect([waiting, anchor.health()]).toEqual([[], { state: "up", detail: null }]);
  });

  it("follows no redirect, and says so where there is none", async () => {
    await expect(webHookSender(await hook(() => 302))(head("2026-02-03"))).rejects.toThrow();
    const none = createAnchor({
      waiting: () => [],
      taken: () => undefined,
      sender: null,
      steadyMs: () => 0,
      failed: () => undefined,
    });
    await none.tick();
    expect(none.health().detail).toBe("no anchor outside is set up");
  });
});
