// Signing in through the door: cookies, changes from elsewhere, names in the journal, limits, the audit.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { AccessBody, AuditLineBody } from "#contract/access.ts";
import { type GuardedDoor, openGuardedDoor, PASSWORD } from "../support/guarded-door.ts";

let guarded: GuardedDoor;
beforeEach(async () => {
  guarded = await openGuardedDoor({ trustedProxies: ["127.0.0.1"] });
});
afterEach(() => guarded.end());

async function makeOwner() {
  const code = guarded.people.firstOwnerCode();
  return guarded.ask(null, "POST", "/first-owner", { code, name: "Ada Ruiz", password: PASSWORD });
}
const cookiesOf = (answer: { headers: { "set-cookie"?: string | string[] | undefined } }) =>
  [answer.headers["set-cookie"] ?? []].flat();
const jar = (answer: Parameters<typeof cookiesOf>[0]) =>
  cookiesOf(answer)
    .map((one) => one.split(";")[0])
    .join("; ");
const signIn = (password: string, headers: Record<string, string> = {}) =>
  guarded.ask(null, "POST", "/sign-in", { name: "Ada Ruiz", password }, headers);

describe("the session", () => {
  it("begins with the first owner, and GET /access says who asks", async () => {
    expect((await guarded.ask(null, "GET", "/access")).json()).toMatchObject({
      accounts: "on",
      firstOwner: true,
      who: null,
      sites: [],
    });
    const made = await makeOwner();
    expect(made.json()).toMatchObject({ firstOwner: false, who: { name: "Ada Ruiz", role: "owner" } });
    const told = (await guarded.ask(jar(made), "GET", "/access")).json<AccessBody>();
    expect(told).toMatchObject({ who: { kind: "person" }, sites: [{ id: "boathouse", name: "Boathouse" }] });
  });
  it("stands in a cookie that scripts, other sites and, over HTTPS, plain lines do not get", async () => {
    const plain = cookiesOf(await makeOwner());
    expect(plain).toHaveLength(2);
    for (const cookie of plain)
      expect(cookie).toMatch(/^nightslab-\w+=[\w-]{43}; Max-Age=\d+; Path=\/; HttpOnly; SameSite=Strict$/);
    const https = await signIn(PASSWORD, { "x-forwarded-proto": "https" });
    for (const cookie of cookiesOf(https))
      expect(cookie).toMatch(
        /^__Host-nightslab-\w+=[\w-]{43}; Max-Age=\d+; Path=\/; HttpOnly; Secure; SameSite=Strict$/,
      );
    expect(https.headers["strict-transport-security"]).toBe("max-age=15552000");
    expect((await signIn(PASSWORD)).headers["strict-transport-security"]).toBeUndefined();
    // A plain cookie that somebody on the line has planted is none over HTTPS.
    const planted = await guarded.ask(plain[0]?.split(";")[0] ?? "", "GET", "/sites", undefined, {
      "x-forwarded-proto": "https",
    });
    expect(planted.statusCode).toBe(401);
  });
  it("is a fresh one at every signing in, and ends with signing out", async () => {
    const first = await makeOwner();
    const again = await guarded.ask(jar(first), "POST", "/sign-in", { name: "Ada Ruiz", password: PASSWORD });
    expect(jar(again)).not.toBe(jar(first));
    expect((await guarded.ask(jar(first), "GET", "/sites")).statusCode).toBe(401);
    const out = await guarded.ask(jar(again), "POST", "/sign-out", {});
    expect(out.json()).toMatchObject({ who: null });
    expect(cookiesOf(out)[0]).toContain("Expires=Thu, 01 Jan 1970");
    expect((await guarded.ask(jar(again), "GET", "/sites")).statusCode).toBe(401);
  });
  it("is not asked for by the pages of the dashboard", async () => {
    expect((await guarded.door.app.inject({ url: "/sign-in" })).statusCode).toBe(503);
  });
});

describe("changes", () => {
  it("are refused without the header that no form elsewhere can send", async () => {
    const owner = jar(await makeOwner());
    const change = (headers: Record<string, string>) =>
      guarded.door.ask("PATCH", "/sites/boathouse", { altitudeM: 5 }, { cookie: owner, ...headers });
    const refused = await change({});
    expect([refused.statusCode, refused.json().faults[0].field]).toEqual([403, "x-nightslab"]);
    expect((await change({ "x-nightslab": "1" })).statusCode).toBe(200);
    expect((await change({ "x-nightslab": "1", origin: "http://elsewhere.example" })).statusCode).toBe(403);
    expect((await guarded.door.ask("POST", "/sign-in", { name: "Ada Ruiz", password: PASSWORD })).statusCode).toBe(403);
  });
  it("to the journal carry the name of the session, and no other", async () => {
    const owner = jar(await makeOwner());
    const entry = { did: "cleaned", zone: "slip", at: "2026-02-03T21:00:00Z" };
    expect((await guarded.ask(owner, "POST", "/sites/boathouse/journal", entry)).json()).toMatchObject({
      by: "Ada Ruiz",
    });
    const forged = await guarded.ask(owner, "POST", "/sites/boathouse/journal", { ...entry, by: "Jo" });
    expect([forged.statusCode, forged.json().faults[0].field]).toEqual([422, "/by"]);
    expect(
      (await guarded.ask(owner, "POST", "/sites/boathouse/journal", { ...entry, by: "Ada Ruiz" })).statusCode,
    ).toBe(201);
  });
});

describe("the door under attack", () => {
  const from = (address: string) => ({ "x-forwarded-for": address });
  it("says how long to wait after three wrong passwords, and does not look at a right one before", async () => {
    await makeOwner();
    for (let n = 0; n < 3; n += 1)
      expect((await signIn("wrong wrong wrong", from("198.51.100.9"))).statusCode).toBe(401);
    const waiting = await signIn(PASSWORD, from("198.51.100.9"));
    expect([waiting.statusCode, waiting.headers["retry-after"]]).toEqual([429, "1"]);
    expect(waiting.json().detail).toBe("Wait 1 s before the next try.");
  });
  it("a flood against one name leaves its owner's own phone alone", async () => {
    const phone = jar(await makeOwner());
    const device = phone.split("; ").find((one) => one.includes("device")) ?? "";
    for (let n = 0; n < 120; n += 1) await signIn("wrong wrong wrong", from(`198.51.100.${n}`));
    expect((await signIn(PASSWORD, from("203.0.113.5"))).statusCode).toBe(429);
    const own = await guarded.ask(
      device,
      "POST",
      "/sign-in",
      { name: "Ada Ruiz", password: PASSWORD },
      from("203.0.113.5"),
    );
    expect(own.statusCode).toBe(200);
    expect((await guarded.ask(phone, "GET", "/sites")).statusCode).toBe(200);
  });
  it("takes sixty tries a minute from one address at most", async () => {
    const answers: number[] = [];
    for (let n = 0; n < 70; n += 1)
      answers.push(
        (await guarded.ask(null, "POST", "/invitations/offer", { token: "guess-guess" }, from("198.51.100.9")))
          .statusCode,
      );
    expect([answers.indexOf(429), answers.at(-1)]).toEqual([60, 429]);
    expect(
      (await guarded.ask(null, "POST", "/invitations/offer", { token: "guess-guess" }, from("198.51.100.10")))
        .statusCode,
    ).toBe(404);
  });
  it("tells an unknown name and a wrong password alike", async () => {
    await makeOwner();
    const wrong = await guarded.ask(null, "POST", "/sign-in", { name: "Ada Ruiz", password: "wrong wrong wrong" });
    const nobody = await guarded.ask(null, "POST", "/sign-in", { name: "Nobody", password: "wrong wrong wrong" });
    const { instance: _a, ...a } = wrong.json();
    const { instance: _b, ...b } = nobody.json();
    expect(a).toEqual(b);
  });
});

it("the audit holds who did what, from where, and no secret", async () => {
  const owner = jar(await makeOwner());
  const { token } = (
    await guarded.ask(owner, "POST", "/invitations", { role: "helper", sites: ["boathouse"], note: "Jo" })
  ).json();
  const offer = await guarded.ask(null, "POST", "/invitations/offer", { token });
  expect(offer.json()).toMatchObject({ role: "helper", sites: ["boathouse"], siteNames: ["Boathouse"] });
  const jo = await guarded.ask(null, "POST", "/invitations/accept", {
    token,
    name: "Jo",
    password: "a lantern for the gate",
  });
  await guarded.ask(jar(jo), "POST", "/sites/boathouse/journal", {
    did: "cleaned",
    zone: "slip",
    at: "2026-02-03T21:00:00Z",
  });
  await guarded.ask(null, "POST", "/sign-in", { name: "Jo", password: "wrong wrong wrong" });
  await guarded.ask(jar(jo), "POST", "/spot-check", {});
  const answer = await guarded.ask(owner, "GET", "/audit");
  const lines = answer
    .json<{ lines: AuditLineBody[] }>()
    .lines.map(({ who, role, did, site, about }) => [who, role, did, site, about]);
  expect(lines).toEqual([
    [null, null, "failed: sign-in", null, ""],
    ["Jo", "helper", "POST /sites/:site/journal", "boathouse", "cleaned, slip"],
    ["Jo", "helper", "POST /invitations/accept", null, ""],
    ["Ada Ruiz", "owner", "POST /invitations", null, "Jo: helper, boathouse"],
    ["Ada Ruiz", "owner", "POST /first-owner", null, ""],
  ]);
  for (const secret of [token, PASSWORD, "lantern"]) expect(answer.body).not.toContain(secret);
  const joOnly = (await guarded.ask(owner, "GET", "/audit?who=Jo&limit=1")).json<{ lines: AuditLineBody[] }>();
  expect(joOnly.lines.map(({ did }) => did)).toEqual(["POST /sites/:site/journal"]);
});

it("sessions are one's own to see and end, and everybody's for the owner", async () => {
  const owner = jar(await makeOwner());
  const helper = await guarded.as("helper");
  const own = (await guarded.ask(helper, "GET", "/sessions")).json<{ sessions: { id: string; own: boolean }[] }>()
    .sessions;
  expect(own.map((one) => one.own)).toEqual([true]);
  const all = (await guarded.ask(owner, "GET", "/sessions")).json<{ sessions: { id: string; own: boolean }[] }>()
    .sessions;
  expect(all).toHaveLength(2);
  const owners = all.find((one) => one.own)?.id ?? "";
  expect((await guarded.ask(helper, "DELETE", `/sessions/${owners}`)).statusCode).toBe(404);
  expect((await guarded.ask(owner, "DELETE", `/sessions/${own[0]?.id ?? ""}`)).statusCode).toBe(204);
  expect((await guarded.ask(helper, "GET", "/sites")).statusCode).toBe(401);
});
