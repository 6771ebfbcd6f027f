// The first picture as HTTP hands it out: who gets which, in whose language, kept by nobody, and nothing of people as markup.
import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { AccessBody } from "#contract/access.ts";
import type { BoardBody } from "#contract/board.ts";
import type { SiteBody } from "#contract/zone.ts";
import { type Look, wishOf } from "../../server/http/first-picture.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { fakeDesk } from "../support/fake-desk.ts";
import { type GuardedDoor, openGuardedDoor } from "../support/guarded-door.ts";
import { type Door, openDoor } from "../support/http-door.ts";
import { SAMPLE_SITE } from "../support/sample-site.ts";

const AS_A_PAGE = { accept: "text/html,application/xhtml+xml", "accept-language": "en-US,en;q=0.8" };
const page = (door: Door, headers: Record<string, string> = {}, method: "GET" | "HEAD" = "GET") =>
  door.app.inject({ method, url: "/", headers: { ...AS_A_PAGE, ...headers } });
const marks = (body: string) =>
  Object.fromEntries(
    [...(/<div id="drawn" ([^>]*) hidden>/.exec(body)?.[1]?.matchAll(/data-(\w+)="([^"]*)"/g) ?? [])].map(
      ([, name = "", value = ""]) => [name, value],
    ),
  );
const known = (body: string) =>
  JSON.parse(/id="known">(.*)<\/script>/.exec(body)?.[1] ?? "null") as {
    access: AccessBody;
    sites: SiteBody[];
    board: BoardBody;
  } | null;

let dashboardDir: string;
beforeAll(async () => {
  dashboardDir = await builtDashboard();
});

describe("with accounts off", () => {
  let door: Door;
  beforeAll(async () => {
    door = await openDoor({ dashboardDir });
  });
  afterAll(() => door.app.close());

  it("every call stands in the page before any script, and what was known beside it", async () => {
    const answer = await page(door);
    expect(answer.statusCode).toBe(200);
    const { body } = answer;
    for (const word of ["POUR", "WAIT", "ABRADE", "FINISHED"]) expect(body).toContain(`>${word}<`);
    expect(marks(body)).toMatchObject({ look: "en~us~auto", site: SAMPLE_SITE.id });
    const board = (await door.ask("GET", `/sites/${SAMPLE_SITE.id}/board`)).json<BoardBody>();
    expect(known(body)?.board).toEqual(board);
    expect(body.match(/<li class="row[ "]/g)).toHaveLength(board.zones.length);
    for (const { zone } of board.zones) expect(body).toContain(`#/site/${SAMPLE_SITE.id}/zone/${zone.id}`);
  });

  it("nobody may keep it, it comes small, and its policy lets in nothing that the build has not written", async () => {
    const answer = await page(door, { "accept-encoding": "gzip" });
    expect(answer.headers["cache-control"]).toBe("no-store");
    expect(String(answer.headers.vary)).toMatch(/cookie/);
    expect(answer.headers["content-encoding"]).toBe("gzip");
    expect(gunzipSync(answer.rawPayload).toString()).toContain('id="drawn"');
    expect(answer.rawPayload.length).toBeLessThan(32_000);
    const html = gunzipSync(answer.rawPayload).toString();
    expect(html).not.toMatch(/ style=| on\w+=/);
    const policy = String(answer.headers["content-security-policy"]);
    const plain = await door.app.inject({ url: "/somewhere", headers: AS_A_PAGE });
    expect(policy.startsWith(`${String(plain.headers["content-security-policy"])};`)).toBe(true);
    // One script and one style stand inside, each let in by what it is; a page of another build would not be.
    for (const [kind, tag] of [
      ["script", /<script data-main[^>]*>((?:(?!<\/script)[^])*)<\/script>/g],
      ["style", /<style>((?:(?!<\/style)[^])*)<\/style>/g],
    ] as const) {
      const inside = [...html.matchAll(tag)].map(([, text = ""]) => createHash("sha256").update(text).digest("base64"));
      expect(inside).toHaveLength(1);
      expect(policy).toContain(`${kind}-src 'self' 'sha256-${inside[0]}'`);
    }
    expect(policy).not.toMatch(/unsafe/);
  });

  it("speaks and measures as the device is set", async () => {
    const es = await page(door, { cookie: `nightslab-look=es~si~24~354~${SAMPLE_SITE.id}` });
    expect(es.body).toContain(">APLICAR<");
    expect(es.body).toContain("°C");
    expect(es.body).not.toMatch(/\d°F/);
    expect(es.body).toContain('width="354"');
    expect(marks(es.body)).toMatchObject({ look: "es~si~24" });
  });

  it.each(["es~si~24~354", "fr~si~24~354~x", "es~si~24~9999999~x", `en~us~12~300~${"x".repeat(400)}`, "<b>"])(
    "a cookie that nobody here has set (%s) counts as none",
    async (cookie) => {
      const answer = await page(door, { cookie: `nightslab-look=${encodeURIComponent(cookie)}` });
      expect([answer.statusCode, marks(answer.body)["look"]]).toEqual([200, "en~us~auto"]);
    },
  );

  it("whoever fetches the page to keep it, or asks for its head, gets it without", async () => {
    const fetched = await page(door, { accept: "*/*" });
    expect([fetched.statusCode, fetched.headers["cache-control"]]).toEqual([200, "no-cache"]);
    expect(fetched.body).not.toContain('id="drawn"');
    expect((await page(door, {}, "HEAD")).headers["cache-control"]).toBe("no-cache");
    for (const url of ["/invite", "/link", "/reset", "/index.html"])
      expect((await door.app.inject({ url, headers: AS_A_PAGE })).body).not.toContain('id="drawn"');
  });

  it("the site that this device has not looked at is not drawn where there are several", async () => {
    const desk = fakeDesk();
    const several = await openDoor({ dashboardDir, desk: { ...desk, sites: () => [...desk.sites(), otherSite] } });
    expect((await page(several)).body).not.toContain('id="drawn"');
    const last = await page(several, { cookie: `nightslab-look=en~us~auto~~${SAMPLE_SITE.id}` });
    expect(marks(last.body)).toMatchObject({ site: SAMPLE_SITE.id });
    expect((await page(several, { cookie: "nightslab-look=en~us~auto~~gone" })).body).not.toContain('id="drawn"');
    await several.app.close();
  });
});

const otherSite: SiteBody = { id: "other", name: "Other", timezone: "UTC", altitudeM: 0 };

it("words of people are text, wherever they stand", async () => {
  const desk = fakeDesk();
  const evil = '</script><img src=x onerror="alert(1)">&"';
  const answer = desk.board(SAMPLE_SITE.id);
  if (!answer.ok) throw new Error("no board");
  const board: BoardBody = structuredClone(answer.value);
  Object.assign(board.site, { name: evil });
  for (const { zone } of board.zones) Object.assign(zone, { name: evil });
  const door = await openDoor({
    dashboardDir,
    desk: { ...desk, board: () => ({ ok: true, value: board }), sites: () => [board.site] },
  });
  const { body } = await page(door);
  expect(known(body)?.board.zones[0]?.zone.name).toBe(evil);
  expect(body).not.toContain("<img");
  expect(body.match(/<\/script>/g)).toHaveLength(2);
  expect(marks(body)["name"]).toBe("&lt;/script&gt;&lt;img src=x onerror=&quot;alert(1)&quot;&gt;&amp;&quot;");
  await door.app.close();
});

describe("with accounts on", () => {
  let house: GuardedDoor;
  beforeAll(async () => {
    house = await openGuardedDoor({ dashboardDir });
  });
  afterAll(() => house.end());

  it("nobody, a client, and whoever has no right to this site get the bare page", async () => {
    const client = await house.as("client", [SAMPLE_SITE.id]);
    const elsewhere = await house.as("lead", ["other"]);
    for (const cookie of [null, client, elsewhere, "nightslab-session=made-up"]) {
      const { statusCode, body } = await page(house.door, cookie === null ? {} : { cookie });
      expect([statusCode, body.includes('id="drawn"'), body.includes('id="known"')]).toEqual([200, false, false]);
    }
  });

  it("each other role gets its own, as the API would answer it", async () => {
    for (const role of ["owner", "lead", "helper", "inspector"] as const) {
      const cookie = await house.as(role);
      const { body } = await page(house.door, { cookie });
      const access = (await house.ask(cookie, "GET", "/access")).json<AccessBody>();
      expect(known(body)?.access).toEqual(access);
      expect(JSON.parse((marks(body)["who"] ?? "").replaceAll("&quot;", '"'))).toEqual(access.who);
    }
  });

  it("a link to one zone shows that zone and names no other", async () => {
    const answer = house.door.desk.board(SAMPLE_SITE.id);
    if (!answer.ok) throw new Error("no board");
    const [first, ...others] = answer.value.zones.map(({ zone }) => zone);
    const cookie = house.byLink("inspector", SAMPLE_SITE.id, first?.id ?? "");
    const { body } = await page(house.door, { cookie });
    expect(known(body)?.board.zones.map(({ zone }) => zone.id)).toEqual([first?.id]);
    for (const { name } of others) expect(body).not.toContain(name);
  });
});

describe("where it cannot be drawn", () => {
  const folder = mkdtempSync(join(tmpdir(), "drawn-"));
  beforeAll(() => {
    cpSync(dashboardDir, folder, { recursive: true });
    writeFileSync(join(folder, "drawn", "first-picture.js"), "export const drawn = () => { throw new Error('no'); };");
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  it("the page comes without", async () => {
    const door = await openDoor({ dashboardDir: folder });
    const { statusCode, body } = await page(door);
    expect([statusCode, body.includes('<div id="root"></div>')]).toEqual([200, true]);
    await door.app.close();
  });

  it("of a long board the first rows are drawn, and all that stands above them", async () => {
    const desk = fakeDesk();
    const answer = desk.board(SAMPLE_SITE.id);
    if (!answer.ok) throw new Error("no board");
    const { value } = answer;
    const many = {
      ...value,
      zones: Array.from({ length: 25 }, (_, index) => {
        const like = value.zones[index % value.zones.length] as (typeof value.zones)[number];
        return { ...like, zone: { ...like.zone, id: `bay-${index}` } };
      }),
    };
    let asked = 0;
    const board = (_site: string, withPast?: number) => {
      asked += 1;
      expect(withPast).toBeGreaterThanOrEqual(2);
      return { ok: true as const, value: many };
    };
    const door = await openDoor({ dashboardDir, desk: { ...desk, board, zonesOf: () => many.zones.length } });
    const { body } = await page(door);
    expect(marks(body)).toMatchObject({ site: SAMPLE_SITE.id });
    const again = await page(door);
    for (const one of [body, again.body]) expect(one.match(/<li class="row[ "]/g)).toHaveLength(2);
    // It is the page that asks for all of it: neither written out here nor read again.
    const said = { access: (await door.ask("GET", "/access")).json<AccessBody>(), sites: desk.sites(), board: null };
    expect(known(body)).toEqual({ ...said, site: SAMPLE_SITE.id });
    expect(asked).toBe(2);
    await door.app.close();
  });

  it("a site that is gone in between has none", async () => {
    const board = () => ({ ok: false as const, refusal: "missing" as const, faults: [] });
    for (const zones of [6, 1000]) {
      const door = await openDoor({ dashboardDir, desk: { ...fakeDesk(), board, zonesOf: () => zones } });
      const { statusCode, body } = await page(door);
      expect([statusCode, body.includes('id="drawn"'), known(body)]).toEqual([200, false, null]);
      await door.app.close();
    }
  });
});

describe("before a device has said how it is set", () => {
  const look = (language: string, agent = "") =>
    wishOf({ cookies: {}, headers: { "accept-language": language, "user-agent": agent } });

  it.each<[string, Look["language"], Look["units"]]>([
    ["en-US,en;q=0.9", "en", "us"],
    ["en", "en", "us"],
    ["en-GB", "en", "si"],
    ["es-MX,es;q=0.9,en;q=0.5", "es", "si"],
    ["es-US", "es", "us"],
    ["de-DE", "en", "si"],
    ["", "en", "si"],
  ])("%s is read as the dashboard reads it", (header, language, units) => {
    expect(look(header).look).toEqual({ language, units, hours: "auto" });
  });

  it("a phone's strips are narrow", () => {
    expect(look("en", "X (Android 14; Mobile)").stripPx).toBeLessThan(360);
    expect(look("en", "X (X11; Linux)").stripPx).toBe(640);
  });
});
