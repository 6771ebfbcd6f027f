// The ways in, each tried on the whole server: HTTPS by a private authority, a proxy, and what is refused beside them.
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { AuditLineBody } from "#contract/access.ts";
import { askUrl, type Wish } from "../support/ask-url.ts";
import { listenTo } from "../support/event-stream.ts";
import { makeCertificates, type MadeCertificates } from "../support/made-certificates.ts";
import { PROXY_LINES, type RunningNginx, startNginx } from "../support/nginx.ts";
import { type RunningApp, runApp } from "../support/running-app.ts";

const PASSWORD = "seven otters under a jetty";
const NAME = "Ada Ruiz";
let made: MadeCertificates;
beforeAll(() => {
  made = makeCertificates();
});
afterAll(() => made.remove());

async function makeOwner(running: RunningApp, url: string, wish: Wish = {}): Promise<string> {
  const body = { code: running.firstOwnerCode, name: NAME, password: PASSWORD };
  const answer = await askUrl(`${url}/api/v1/first-owner`, { method: "POST", body, ...wish });
  expect(answer.status, answer.body).toBe(200);
  return answer.cookie;
}

describe("loopback without accounts", () => {
  let running: RunningApp;
  beforeAll(async () => {
    running = await runApp();
  });
  afterAll(() => running.end());

  it("asks nobody who they are", async () => {
    expect((await askUrl(`${running.httpUrl}/api/v1/sites`)).status).toBe(200);
    expect((await askUrl(`${running.httpUrl}/api/v1/access`)).json()).toMatchObject({
      accounts: "off",
      who: { kind: "open" },
    });
    expect(running.firstOwnerCode).toBeNull();
  });
  it.each(["x-forwarded-for", "x-forwarded-proto", "x-real-ip", "forwarded", "via"])(
    "refuses what came through a proxy (%s), and says why",
    async (name) => {
      const answer = await askUrl(`${running.httpUrl}/api/v1/sites`, { headers: { [name]: "192.0.2.1" } });
      expect(answer.status).toBe(400);
      expect(answer.body).toContain("open it to strangers");
    },
  );
  it("keeps no people: whoever is here now must not leave keys behind for later", async () => {
    const answer = await askUrl(`${running.httpUrl}/api/v1/invitations`, {
      method: "POST",
      body: { role: "owner", sites: null },
    });
    expect([answer.status, answer.json().detail]).toEqual([409, expect.stringContaining("Accounts are off")]);
  });
});

describe("HTTPS by a private authority", () => {
  let running: RunningApp;
  beforeAll(async () => {
    running = await runApp({ settings: { accounts: "on", httpTlsCert: made.cert, httpTlsKey: made.key } });
  });
  afterAll(() => running.end());

  it("answers a browser that knows the authority, and no plain HTTP", async () => {
    expect(running.httpUrl).toMatch(/^https:/);
    const answer = await askUrl(`${running.httpUrl}/api/v1/access`, { ca: made.ca });
    expect([answer.status, answer.headers["strict-transport-security"]]).toEqual([200, "max-age=15552000"]);
    await expect(askUrl(`${running.httpUrl}/api/v1/access`)).rejects.toThrow(/self-signed|unable to verify/);
    await expect(askUrl(`${running.httpUrl.replace("https", "http")}/api/v1/access`)).rejects.toThrow();
  });
  it("gives cookies that HTTPS alone carries", async () => {
    const cookie = await makeOwner(running, running.httpUrl, { ca: made.ca });
    expect(cookie).toContain("__Host-nightslab-session=");
    expect((await askUrl(`${running.httpUrl}/api/v1/sites`, { ca: made.ca, headers: { cookie } })).status).toBe(200);
    expect((await askUrl(`${running.httpUrl}/api/v1/sites`, { ca: made.ca })).status).toBe(401);
  });
});

describe("behind a proxy", () => {
  let running: RunningApp;
  let nginx: RunningNginx;
  let cookie: string;
  beforeAll(async () => {
    running = await runApp({ settings: { accounts: "on", trustedProxies: "127.0.0.1", httpNames: "floor.example" } });
    nginx = await startNginx(running.httpUrl, made);
    cookie = await makeOwner(running, `http://127.0.0.1:${nginx.httpPort}`);
  });
  afterAll(async () => {
    await nginx.stop();
    await running.end();
  });
  const lines = async () =>
    (await askUrl(`http://127.0.0.1:${nginx.httpPort}/api/v1/audit`, { headers: { cookie } })).json<{
      lines: AuditLineBody[];
    }>().lines;
  const signIn = (wish: Wish = {}) => {
    const body = { name: NAME, password: PASSWORD };
    return askUrl(`https://127.0.0.1:${nginx.httpsPort}/api/v1/sign-in`, {
      method: "POST",
      body,
      ca: made.ca,
      ...wish,
    });
  };

  it("is set up as the readme says", () => {
    const readme = readFileSync(new URL("../../README.md", import.meta.url), "utf8");
    for (const line of PROXY_LINES.split("\n")) expect(readme).toContain(`  ${line}\n`);
  });
  it("with TLS the cookies are Secure, without they are not", async () => {
    expect(cookie).toMatch(/^nightslab-session=/);
    const answer = await signIn();
    expect(answer.cookie).toContain("__Host-nightslab-session=");
    expect(answer.headers["set-cookie"]?.every((one) => one.includes("Secure"))).toBe(true);
    expect(answer.headers["strict-transport-security"]).toBe("max-age=15552000");
  });
  it("the address is that of whoever asks the proxy, also when they claim another", async () => {
    expect((await signIn({ from: "127.0.0.5", headers: { "x-forwarded-for": "203.0.113.99" } })).status).toBe(200);
    expect((await lines())[0]).toMatchObject({ did: "POST /sign-in", address: "127.0.0.5" });
  });
  it("the same headers from anybody but the proxy are refused", async () => {
    const forged = { headers: { cookie, "x-forwarded-for": "203.0.113.99" }, from: "127.0.0.6" };
    expect((await askUrl(`${running.httpUrl}/api/v1/sites`, forged)).status).toBe(400);
  });
  it("answers under its names, and a change from a page under another is refused", async () => {
    const asked = (headers: Record<string, string>) =>
      askUrl(`http://127.0.0.1:${nginx.httpPort}/api/v1/sites/dock`, {
        method: "PATCH",
        body: { altitudeM: 7 },
        headers: { cookie, ...headers },
      });
    expect((await asked({ host: "floor.example", origin: "http://floor.example" })).status).toBe(200);
    expect((await asked({ host: "floor.example", origin: "http://elsewhere.example" })).status).toBe(403);
    expect((await asked({ host: "elsewhere.example" })).status).toBe(421);
  });
  it("live updates come through, and end when the session is ended", async () => {
    const signed = await signIn();
    const url = `http://127.0.0.1:${nginx.httpPort}/api/v1`;
    const own = await askUrl(`${url}/sign-in`, { method: "POST", body: { name: NAME, password: PASSWORD } });
    const stream = await listenTo(`${url}/sites/dock/stream`, undefined, { cookie: own.cookie });
    await stream.until((heard) => heard[0]?.event === "snapshot");
    expect(signed.status).toBe(200);
    await askUrl(`${url}/sign-out`, { method: "POST", body: {}, headers: { cookie: own.cookie } });
    await stream.ended;
    expect((await listenTo(`${url}/sites/dock/stream`, undefined, { cookie: own.cookie })).status).toBe(401);
  });
});

describe("live updates within borders", () => {
  let running: RunningApp;
  let cookie: string;
  beforeAll(async () => {
    running = await runApp({ settings: { accounts: "on" } });
    cookie = await makeOwner(running, running.httpUrl);
  });
  afterAll(() => running.end());
  const ask = (path: string, wish: Wish = {}) =>
    askUrl(`${running.httpUrl}/api/v1${path}`, { ...wish, headers: { cookie, ...wish.headers } });
  const linked = async (role: string, zone: string | null) => {
    const link = (await ask("/links", { method: "POST", body: { role, site: "dock", zone, label: "A link" } })).json<{
      id: string;
      token: string;
    }>();
    const opened = await askUrl(`${running.httpUrl}/api/v1/links/open`, {
      method: "POST",
      body: { token: link.token },
    });
    expect(opened.status).toBe(200);
    return { id: link.id, cookie: opened.cookie };
  };

  it("a link to one zone hears of that zone only, and is cut off when it is withdrawn", async () => {
    const site = (await ask("/sites/dock/board")).json<{
      zones: { zone: { id: string } & Record<string, unknown> }[];
    }>();
    const [first] = site.zones;
    if (first === undefined) expect.fail("has no zone");
    await ask("/sites/dock/zones", { method: "POST", body: { ...first.zone, id: "annex", name: "Annex" } });
    const link = await linked("inspector", first.zone.id);
    const stream = await listenTo(`${running.httpUrl}/api/v1/sites/dock/stream`, undefined, { cookie: link.cookie });
    const [snapshot] = await stream.until((heard) => heard.length > 0);
    expect((snapshot?.data as typeof site).zones.map(({ zone }) => zone.id)).toEqual([first.zone.id]);
    const entry = { did: "cleaned", at: new Date(running.nowMs()).toISOString() };
    for (const zone of ["annex", first.zone.id]) {
      const added = await ask("/sites/dock/journal", { method: "POST", body: { ...entry, zone } });
      expect(added.status, added.body).toBe(201);
    }
    const heard = await stream.until((all) => all.some(({ event }) => event === "journal"));
    const zones = heard.filter(({ event }) => event === "journal").map(({ data }) => (data as { zone: string }).zone);
    expect(zones).toEqual([first.zone.id]);
    expect(JSON.stringify(heard)).not.toContain("annex");
    await ask(`/links/${link.id}`, { method: "DELETE" });
    await stream.ended;
  });
  it("a client hears nothing live", async () => {
    const link = await linked("client", null);
    expect(
      (await listenTo(`${running.httpUrl}/api/v1/sites/dock/stream`, undefined, { cookie: link.cookie })).status,
    ).toBe(403);
    expect(
      (await askUrl(`${running.httpUrl}/api/v1/sites/dock/client-page`, { headers: { cookie: link.cookie } })).status,
    ).toBe(200);
  });
});
