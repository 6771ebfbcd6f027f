// The guards of a door without accounts: under which names it answers, and from which pages it takes changes.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Door, openDoor } from "../support/http-door.ts";

let door: Door;
beforeAll(async () => {
  door = await openDoor({ allowedHosts: ["Box.Example"] });
});
afterAll(() => door.app.close());

describe("names", () => {
  it.each(["127.0.0.1:8080", "localhost", "LOCALHOST:1", "[::1]:8080", "box.example:443", "BOX.example"])(
    "answers as %s",
    async (host) => {
      expect((await door.ask("GET", "/sites", undefined, { host })).statusCode).toBe(200);
    },
  );
  // A name of the attacker's that points at 127.0.0.1 is what DNS rebinding is made of.
  it.each([
    "rebound.example:8080",
    "127.0.0.1.rebound.example",
    "localhost@rebound.example",
    "127.0.0.2",
    "[::2]",
    "localhost:99999",
    "localhost/x",
  ])("refuses %s", async (host) => {
    expect((await door.refused(421, "GET", "/sites", undefined, { host })).faults?.[0]?.field).toBe("host");
  });
  it("refuses foreign names for pages and unknown addresses too", async () => {
    for (const url of ["/", "/api/v1/attic"]) {
      expect((await door.app.inject({ url, headers: { host: "rebound.example" } })).statusCode).toBe(421);
    }
  });
});

describe("origins of changes", () => {
  const change = (headers: Record<string, string>) =>
    door.ask("PATCH", "/sites/boathouse", { altitudeM: 1 }, { host: "localhost:8080", ...headers });
  it.each([
    {},
    { origin: "http://localhost:8080" },
    { "sec-fetch-site": "same-origin" },
    { host: "box.example", origin: "https://box.example" },
  ])("takes %j", async (headers) => {
    expect((await change(headers as Record<string, string>)).statusCode).toBe(200);
  });
  it.each([
    { origin: "http://localhost:3000" },
    { origin: "http://other.example" },
    { origin: "null" },
    { origin: "file://localhost:8080" },
    { "sec-fetch-site": "cross-site" },
  ])("refuses %j", async (headers) => {
    const answer = await change(headers as Record<string, string>);
    expect(answer.statusCode).toBe(403);
    expect(answer.json()).toMatchObject({ faults: [{ field: "origin" }] });
  });
  it("does not mind where a reader comes from: browsers keep the answer from a foreign page", async () => {
    const answer = await door.ask("GET", "/sites", undefined, { origin: "http://other.example" });
    expect(answer.statusCode).toBe(200);
    expect(answer.headers["access-control-allow-origin"]).toBeUndefined();
  });
});

it("forbids pages to run anything that did not come as a file from here", async () => {
  const { headers } = await door.ask("GET", "/sites");
  expect(headers["content-security-policy"]).toBe(
    "default-src 'self';img-src 'self' data:;object-src 'none';base-uri 'none';form-action 'self';frame-ancestors 'none'",
  );
  expect(headers["x-content-type-options"]).toBe("nosniff");
  // Over plain HTTP on a loopback address there is nothing to upgrade to.
  expect(headers["strict-transport-security"]).toBeUndefined();
});
