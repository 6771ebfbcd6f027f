// Whatever goes wrong, the answer is a problem document (RFC 9457) that says what, and never how the server is made inside.
import { connect } from "node:net";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PROBLEM_MEDIA_TYPE } from "#contract/problem.ts";
import { fakeDesk } from "../support/fake-desk.ts";
import { type Door, openDoor } from "../support/http-door.ts";

const JSON_TYPE = { "content-type": "application/json" };
let door: Door;
beforeAll(async () => {
  door = await openDoor();
});
afterAll(() => door.app.close());

it("an address that is nothing is 404", async () => {
  expect((await door.refused(404, "GET", "/attic")).detail).toBe("Nothing stands under /api/v1/attic.");
  await door.refused(404, "GET", "/api/v2/sites");
  await door.refused(404, "GET", "/api");
  await door.refused(404, "POST", "/attic", {});
});

it("an address with another method is 405 and says which methods there are", async () => {
  const answer = await door.ask("DELETE", "/sheets");
  expect([answer.statusCode, answer.headers.allow]).toEqual([405, "GET, HEAD, PUT"]);
  await door.refused(405, "PUT", "/sites/boathouse/zones/slip", {});
});

it("a part of an address that no id could be is 414", async () => {
  await door.refused(414, "GET", `/sites/${"x".repeat(101)}/board`);
});

it("what is no HTTP request is 400, and one with an endless head 431", async () => {
  const { port } = new URL(await door.app.listen({ host: "127.0.0.1", port: 0 }));
  const said = (text: string) =>
    new Promise<string>((resolve) => {
      let answer = "";
      const socket = connect(Number(port), "127.0.0.1", () => socket.write(text));
      socket.setEncoding("utf8").on("data", (chunk: string) => (answer += chunk));
      socket.on("error", () => undefined).on("close", () => resolve(answer));
    });
  for (const [text, status] of [
    ["POUR now\r\n\r\n", 400],
    [`GET / HTTP/1.1\r\nHost: localhost\r\nX: ${"x".repeat(20_000)}\r\n\r\n`, 431],
  ] as const) {
    const answer = await said(text);
    expect(answer).toContain(`HTTP/1.1 ${status} `);
    expect(answer).toContain(PROBLEM_MEDIA_TYPE);
    expect(JSON.parse(answer.split("\r\n\r\n")[1] ?? "")).toMatchObject({ status });
  }
});

it("an address that cannot be decoded is 400", async () => {
  await door.refused(400, "GET", "/sites/%zz/board");
});

describe("bodies that cannot be read", () => {
  it.each(['{"id": ', "", "{'id': 1}", '{"a": 1} x'])("%j is 400", async (body) => {
    const { faults } = await door.refused(400, "POST", "/sites", body, JSON_TYPE);
    expect(faults?.map((fault) => fault.field)).toEqual(["/"]);
  });
  it("a body that reaches for a prototype is 400", async () => {
    await door.refused(400, "POST", "/sites", '{"__proto__": {"id": "x"}}', JSON_TYPE);
  });
  it("no body at all is 422 and names what is missing", async () => {
    expect((await door.refused(422, "POST", "/sites")).faults?.length).toBeGreaterThan(0);
  });
  it.each(["text/plain", "application/x-www-form-urlencoded", "application/xml"])("%s is 415", async (type) => {
    await door.refused(415, "POST", "/sites", "id=x", { "content-type": type });
  });
  it("more than a mebibyte is 413, more than 32 as a night file", async () => {
    await door.refused(413, "PUT", "/sheets", { name: "x".repeat(1024 * 1024) });
    await door.refused(413, "POST", "/sites/boathouse/night-files", { title: "x".repeat(32 * 1024 * 1024) });
  });
});

it("a failure inside is 500, without its words, and with an id that leads to the log", async () => {
  const lines: unknown[] = [];
  const line = (...args: unknown[]) => void lines.push(args);
  const logger = {
    level: "error",
    fatal: line,
    error: line,
    warn: line,
    info: line,
    debug: line,
    trace: line,
    silent: line,
    child: () => logger,
  };
  const broken = await openDoor({
    logger,
    desk: {
      ...fakeDesk(),
      sites: () => {
        throw new Error("password of the store is 1234");
      },
      putSheet: () => Promise.reject(Object.assign(new Error("disk"), { statusCode: 418 })),
    },
  });
  const problem = await broken.refused(500, "GET", "/sites");
  expect(JSON.stringify(problem)).not.toContain("1234");
  expect(problem.instance).toBe("start-r1");
  expect(JSON.stringify(lines)).toContain("start-r1");
  // A status that the door does not know is none of its own either.
  await broken.refused(500, "PUT", "/sheets", (await door.ask("GET", "/sheets")).json<unknown[]>()[0]);
  await broken.app.close();
});

it("too many changes in a minute are 429; reading goes on", async () => {
  const busy = await openDoor({ writesPerMinute: 2 });
  for (let sent = 0; sent < 2; sent += 1) await busy.refused(422, "POST", "/sites", {});
  await busy.refused(429, "POST", "/sites", {});
  const answer = await busy.ask("POST", "/sites", {});
  expect(Number(answer.headers["retry-after"])).toBeGreaterThan(0);
  expect((await busy.ask("GET", "/sites")).statusCode).toBe(200);
  await busy.app.close();
});

it("a stream of a full server is 503, of an unknown site 404", async () => {
  const opened: unknown[] = [];
  const open = (site: string, lastEventId: string | null) => {
    opened.push([site, lastEventId]);
    return site === "boathouse" ? ("full" as const) : ("missing" as const);
  };
  const streaming = await openDoor({ stream: { open, upTo: () => "test-0", close: () => undefined } });
  await streaming.refused(503, "GET", "/sites/boathouse/stream");
  const { faults } = await streaming.refused(404, "GET", "/sites/depot/stream", undefined, {
    "last-event-id": "start-4",
  });
  expect(faults).toEqual([{ field: "/site", reason: 'no site "depot"' }]);
  expect(
    (await streaming.refused(400, "GET", "/sites/depot/stream", undefined, { "last-event-id": "x".repeat(201) }))
      .detail,
  ).toBe("in a header");
  expect(opened).toEqual([
    ["boathouse", null],
    ["depot", "start-4"],
  ]);
  await streaming.app.close();
});
