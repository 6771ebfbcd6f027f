// Asking a weather service over HTTP, with real requests: whatever it does, there is an answer with a reason.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { askHttp, type Question, SOURCE_LIMITS, type SourceLimits } from "../../server/feed/http-source.ts";
import { freePort } from "../support/free-port.ts";
import { json, startWeatherServer, status, type WeatherServer } from "../support/weather-server.ts";

let weather: WeatherServer;
beforeEach(async () => {
  weather = await startWeatherServer();
});
afterEach(() => weather.close());

const open = new AbortController().signal;
const ask = (path = "/", more: Partial<Question> = {}, limits: SourceLimits = SOURCE_LIMITS) =>
  askHttp({ url: `${weather.url}${path}`, headers: {}, etag: null, lastModified: null, ...more }, limits, open);
const reasonOf = async (asked: ReturnType<typeof askHttp>) => {
  const answer = await asked;
  return answer.kind === "failed" ? answer.faults[0]?.reason : answer.kind;
};

describe("a question", () => {
  it("is answered with the text and what the answer says of itself", async () => {
    weather.answer(json({ a: "grün" }, { etag: '"7"', "last-modified": "Tue, 03 Feb 2026 12:00:00 GMT" }));
    expect(await ask("/hours?x=1", { headers: { "x-key": "word" } })).toEqual({
      kind: "text",
      text: '{"a":"grün"}',
      etag: '"7"',
      lastModified: "Tue, 03 Feb 2026 12:00:00 GMT",
    });
    expect(weather.asked[0]).toMatchObject({ path: "/hours?x=1", headers: { "x-key": "word" } });
  });
  it("asks whether anything is new (RFC 9110: If-None-Match, If-Modified-Since, 304)", async () => {
    weather.answer(status(304));
    const lastModified = "Tue, 03 Feb 2026 12:00:00 GMT";
    expect(await ask("/", { etag: '"7"', lastModified })).toEqual({ kind: "same" });
    expect(weather.asked[0]?.headers).toMatchObject({ "if-none-match": '"7"', "if-modified-since": lastModified });
  });
});

describe("a bad answer", () => {
  it.each([500, 401, 404, 429])("%i is a reason", async (code) => {
    weather.answer(status(code));
    expect(await reasonOf(ask())).toBe(`answered ${code} instead of the hours`);
  });
  it("may ask for patience, in seconds or until a date (RFC 9110: Retry-After)", async () => {
    weather.answer(status(503, { "retry-after": "7200" }));
    expect(await ask()).toMatchObject({ kind: "failed", retryAfterMs: 7_200_000 });
    weather.answer(status(503, { "retry-after": "Tue, 03 Feb 2026 12:00:00 GMT" }));
    expect(await ask()).toMatchObject({ kind: "failed", retryAfterMs: 0 });
    weather.answer(status(503, { "retry-after": "later" }));
    expect(await ask()).toMatchObject({ kind: "failed", retryAfterMs: null });
  });
  it("of more than 2 MiB is cut off, also when it does not say how long it is", async () => {
    weather.answer((_, response) => {
      response.writeHead(200);
      const more = () => {
        while (!response.destroyed && response.write("x".repeat(65_536)));
        if (!response.destroyed) response.once("drain", more);
      };
      more();
    });
    expect(await reasonOf(ask())).toBe("says more than 2 MiB");
    weather.answer(json("x".repeat(3 * 1024 * 1024)));
    expect(await reasonOf(ask())).toBe("says more than 2 MiB");
  });
  it("that never comes, or never ends, is waited for until the deadline", async () => {
    const short = { ...SOURCE_LIMITS, timeoutMs: 200 };
    weather.answer(() => undefined);
    expect(await reasonOf(ask("/", {}, short))).toBe("gave no answer within 0.2 s");
    weather.answer((_, response) => void response.writeHead(200).write("{"));
    expect(await reasonOf(ask("/", {}, short))).toBe("gave no answer within 0.2 s");
  });
  it("that breaks off is a reason", async () => {
    weather.answer((_, response) => {
      response.writeHead(200, { "content-length": "100" });
      response.write("{", () => response.destroy());
    });
    expect(await reasonOf(ask())).toMatch(/^cannot be reached/);
  });
  it("of nobody is a reason that does not repeat the address", async () => {
    const port = await freePort();
    const reason = await reasonOf(ask("/", { url: `http://127.0.0.1:${port}/?key=hunter2` }));
    expect(reason).toBe("cannot be reached (ECONNREFUSED)");
    expect(await reasonOf(ask("/", { url: "http://127.0.0.1:99999/" }))).toBe("is not an address");
  });
  it("is cut off when the server stops", async () => {
    weather.answer(() => undefined);
    const closing = new AbortController();
    const asked = askHttp(
      { url: weather.url, headers: {}, etag: null, lastModified: null },
      SOURCE_LIMITS,
      closing.signal,
    );
    setTimeout(() => closing.abort(), 50);
    expect(await reasonOf(asked)).toBe("was not asked to the end: the server stops");
  });
});

describe("a redirect", () => {
  it("is followed, secrets and all, on the same server", async () => {
    weather.answer((request, response) =>
      request.url === "/old" ? status(302, { location: "/new" })(request, response) : json([])(request, response),
    );
    expect(await reasonOf(ask("/old", { headers: { "x-key": "word" } }))).toBe("text");
    expect(weather.asked.map(({ path, headers }) => [path, headers["x-key"]])).toEqual([
      ["/old", "word"],
      ["/new", "word"],
    ]);
  });
  it("takes no secret to another server", async () => {
    const other = await startWeatherServer();
    other.answer(json([]));
    weather.answer(status(307, { location: `${other.url}/x` }));
    expect(await reasonOf(ask("/", { headers: { "x-key": "word" } }))).toBe("text");
    expect(other.asked[0]?.headers["x-key"]).toBeUndefined();
    await other.close();
  });
  it("in a loop ends after five", async () => {
    weather.answer(status(302, { location: "/again" }));
    expect(await reasonOf(ask())).toBe("leads on and on: more than 5 redirects");
    expect(weather.asked).toHaveLength(6);
  });
  it("to something else than http is not followed, nor one to nowhere", async () => {
    weather.answer(status(302, { location: "file:///etc/passwd" }));
    expect(await reasonOf(ask())).toBe("leads to file:, which is not asked");
    weather.answer(status(302));
    expect(await reasonOf(ask())).toBe("answered 302 and leads nowhere");
  });
});
