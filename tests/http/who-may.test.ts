// Every route that the server has, tried as every role and as nobody; then the borders of sites and zones.
import { afterAll, beforeAll, beforeEach, afterEach, describe, expect, it } from "vitest";
import { type AccessBody, MAY, ROLES } from "#contract/access.ts";
import type { BoardBody } from "#contract/board.ts";
import { buildHttp } from "../../server/http/server.ts";
import type { StatedRoute } from "../../server/http/stated.ts";
import { fakeDesk } from "../support/fake-desk.ts";
import { type GuardedDoor, openGuardedDoor } from "../support/guarded-door.ts";
import type { Method } from "../support/http-door.ts";

let guarded: GuardedDoor;
let routes: readonly StatedRoute[];
const open = async () => {
  guarded = await openGuardedDoor({ writesPerMinute: 1e9 });
  routes = guarded.door.app.statedRoutes().filter(({ method }) => method !== "HEAD");
};
const shut = () => guarded.end();

const nameOf = ({ method, url }: StatedRoute) => `${method} ${url.replace("/api/v1", "")}`;
const PLACES: Readonly<Record<string, string>> = { site: "boathouse", zone: "slip", node: "slip-1" };
const filled = (url: string, places = PLACES) => url.replace(/:(\w+)/g, (_, name: string) => places[name] ?? "p-0");
/** Bodies are empty on purpose: whoever may ask is told what is missing, and whoever may not never gets that far. */
const tried = (cookie: string | null, route: StatedRoute, places = PLACES) =>
  guarded.ask(cookie, route.method as Method, filled(route.url, places), route.method === "GET" ? undefined : {});

describe("every route", () => {
  beforeAll(open);
  afterAll(shut);
  it("lets in exactly the roles of its word, and nobody without a session", async () => {
    expect(routes.length).toBeGreaterThan(50);
    // Signing out and changing the password would end the sessions that the other routes are tried with.
    const ending = ["POST /sign-out", "POST /password"];
    for (const role of [null, ...ROLES]) {
      const cookie = role === null ? null : await guarded.as(role);
      for (const route of routes.filter((one) => role === null || !ending.includes(nameOf(one)))) {
        const { statusCode, body } = await tried(cookie, route);
        const roles: readonly string[] = MAY[route.may];
        const said = `${nameOf(route)} as ${role ?? "nobody"}: ${statusCode} ${body.slice(0, 200)}`;
        if (route.may === "anyone") expect([401, 403], said).not.toContain(statusCode);
        else if (role === null) expect(statusCode, said).toBe(401);
        else if (roles.includes(role)) expect([401, 403], said).not.toContain(statusCode);
        else expect(statusCode, said).toBe(403);
      }
    }
  });

  // The words themselves, held against what the house promises of each role, so that a wrong word is seen too.
  const reached = (role: string) =>
    routes.filter(({ may }) => may !== "anyone" && (MAY[may] as readonly string[]).includes(role)).map(nameOf);
  const OWN_SELF = ["DELETE /sessions/:session", "GET /sessions", "POST /password", "POST /sign-out"];
  const OWN_CONTACT = [
    "PUT /own-contact",
    "POST /own-contact/push",
    "DELETE /own-contact/push/:push",
    "POST /own-contact/test",
  ];
  const OWN_CALENDARS = ["POST /sites/:site/calendars", "DELETE /sites/:site/calendars/:calendar"];
  const isOwn = (name: string) => [...OWN_SELF, ...OWN_CONTACT, ...OWN_CALENDARS].includes(name);
  it("a client reaches the client's page and nothing else of a floor", () => {
    expect(reached("client").sort()).toEqual([...OWN_SELF, "GET /sites/:site/client-page"].sort());
  });
  it("an inspector changes nothing", () => {
    const changes = reached("inspector").filter((name) => !name.startsWith("GET ") && !isOwn(name));
    expect(changes).toEqual(["POST /spot-check"]);
  });
  it("a helper writes to the journal and its pictures, and plans nothing", () => {
    const changes = reached("helper").filter((name) => !name.startsWith("GET ") && !isOwn(name));
    expect(
      changes.filter(
        (name) => !/^POST \/sites\/:site\/(alarms\/:alarm\/(acknowledge|snooze)|journal|photos)$/.test(name),
      ),
    ).toEqual(["POST /spot-check"]);
  });
  it("people, links, invitations and the audit are the owner's", () => {
    const owners = routes
      .filter(({ url }) => /v1\/(people|links|invitations|audit)/.test(url))
      .filter(({ may }) => may !== "anyone");
    expect(owners.length).toBeGreaterThan(8);
    expect(owners.filter(({ may }) => may !== "own")).toEqual([]);
  });
  it("strangers reach the ways in, the state of the server and its document", () => {
    expect(
      routes
        .filter(({ may }) => may === "anyone")
        .map(nameOf)
        .sort(),
    ).toEqual([
      "GET /access",
      // Its address is the secret.
      "GET /calendar/:token.ics",
      "GET /health",
      "GET /openapi.json",
      "POST /first-owner",
      "POST /invitations/accept",
      "POST /invitations/offer",
      "POST /links/open",
      "POST /reset",
      "POST /sign-in",
    ]);
  });
});

it("a route that does not say who may stops the server from being built", async () => {
  const stream = { open: () => "full" as const, upTo: () => "test-0", close: () => undefined };
  const app = await buildHttp({ desk: fakeDesk(), stream, logger: false, dashboardDir: null, startId: "s" });
  expect(() => app.get("/api/v1/attic", async () => "")).toThrow("does not state who may");
  await app.close();
});

it("a stranger learns of the server's health whether it works, and no more", async () => {
  await open();
  const told = (await guarded.ask(null, "GET", "/health")).json();
  expect(told).toMatchObject({ state: "degraded", lastMessageAt: null, counters: {} });
  expect(JSON.stringify(told)).not.toContain("not reached");
  expect((await guarded.ask(await guarded.as("helper"), "GET", "/health")).body).toContain("not reached");
  await shut();
});

describe("borders of a person bound to another site", () => {
  beforeEach(open);
  afterEach(shut);
  it("hide this one: every route of it is answered as if it were not there", async () => {
    const cookie = await guarded.as("lead", ["attic"]);
    for (const route of routes.filter(
      ({ url, may }) => url.includes(":site") && (MAY[may] as readonly string[]).includes("lead"),
    )) {
      const { statusCode, body } = await tried(cookie, route);
      expect(statusCode, `${nameOf(route)} ${body}`).toBe(404);
      expect(body).toContain('no site \\"boathouse\\"');
    }
    expect((await guarded.ask(cookie, "GET", "/sites")).json()).toEqual([]);
  });
  it("keep from what is the whole house's: new sites, and sheets, which other sites pour by", async () => {
    const cookie = await guarded.as("lead", ["boathouse"]);
    const changes = routes.filter(
      ({ url, method, may }) => method !== "GET" && may === "plan" && !url.includes(":site"),
    );
    expect(changes.map(nameOf).sort()).toEqual([
      "DELETE /contacts/:contact",
      "DELETE /contacts/:contact/push/:push",
      "PATCH /contacts/:contact",
      "POST /contacts",
      "POST /contacts/:contact/push",
      "POST /contacts/:contact/test",
      "POST /night-files/judge",
      "POST /sheet-photos",
      "POST /sheets/:sheet/confirm",
      "POST /site-files",
      "POST /sites",
      "PUT /sheets",
    ]);
    for (const route of changes) expect((await tried(cookie, route)).statusCode).toBe(403);
    expect((await guarded.ask(cookie, "GET", "/sites")).json()).toHaveLength(1);
  });
});

describe("borders of a link to one zone", () => {
  beforeEach(open);
  afterEach(shut);
  it("another site and another zone are not there", async () => {
    const cookie = guarded.byLink("inspector", "boathouse", "slip");
    const readable = routes.filter(
      ({ url, may }) => url.includes(":site") && (MAY[may] as readonly string[]).includes("inspector"),
    );
    for (const route of readable)
      expect((await tried(cookie, route, { ...PLACES, site: "attic" })).statusCode, nameOf(route)).toBe(404);
    for (const route of readable.filter(({ url }) => url.includes(":zone")))
      expect((await tried(cookie, route, { ...PLACES, zone: "office" })).statusCode, nameOf(route)).toBe(404);
  });
  it("what speaks of the whole site is refused, but for what is cut down to the zone", async () => {
    const cookie = guarded.byLink("inspector", "boathouse", "slip");
    const letIn: string[] = [];
    for (const route of routes.filter(({ url, may }) => !url.includes(":zone") && may === "read"))
      if ((await tried(cookie, route)).statusCode !== 403) letIn.push(nameOf(route));
    expect(letIn.sort()).toEqual([
      "GET /invented-night",
      "GET /metrics",
      "GET /office",
      "GET /office/stream",
      "GET /push-key",
      "GET /sheet-photos/:photo",
      "GET /sheet-photos/:photo/small",
      "GET /sheets",
      "GET /sheets/:sheet/versions",
      "GET /sites",
      "GET /sites/:site/board",
      "GET /sites/:site/journal",
      "GET /sites/:site/stream",
      "POST /spot-check",
    ]);
  });
  it("board, journal and sheets hold that zone's alone", async () => {
    const cookie = guarded.byLink("inspector", "boathouse", "slip");
    const board: BoardBody = (await guarded.ask(cookie, "GET", "/sites/boathouse/board")).json();
    expect(board.zones.map(({ zone }) => zone.id)).toEqual(["slip"]);
    expect(board.nodes.length).toBeGreaterThan(0);
    expect(board.nodes.every(({ node }) => node.zone === "slip")).toBe(true);
    const journal = (await guarded.ask(cookie, "GET", "/sites/boathouse/journal")).json<{
      entries: { zone: string }[];
    }>();
    expect(journal.entries.length).toBeGreaterThan(0);
    expect(journal.entries.every(({ zone }) => zone === "slip")).toBe(true);
    expect((await guarded.ask(cookie, "GET", "/sites/boathouse/journal?zone=office")).statusCode).toBe(404);
    expect((await guarded.ask(cookie, "GET", "/sites/boathouse/zones/slip")).statusCode).toBe(200);
  });
  it("a client's shows dates and what to leave alone, of that zone, and nothing else", async () => {
    const cookie = guarded.byLink("client", "boathouse", "slip");
    const page = (await guarded.ask(cookie, "GET", "/sites/boathouse/client-page")).json<{
      zones: { zone: string }[];
    }>();
    expect(page.zones.map(({ zone }) => zone)).toEqual(["slip"]);
    expect((await guarded.ask(cookie, "GET", "/sites/boathouse/board")).statusCode).toBe(403);
    const access = (await guarded.ask(cookie, "GET", "/access")).json<AccessBody>();
    expect(access).toMatchObject({ who: { kind: "link", role: "client", zone: "slip" }, sites: [{ id: "boathouse" }] });
  });
});
