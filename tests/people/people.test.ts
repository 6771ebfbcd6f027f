// People over a real store: the first owner, invitations, sessions, resets, links, and the audit.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Caller, Signed } from "../../server/people/office.ts";
import type { Answer } from "../../server/people/answer.ts";
import { createPeople, type People } from "../../server/people/people.ts";
import { openStore } from "../../server/store/store.ts";

const DAY_MS = 86_400_000;
const PASSWORD = "seven otters under a jetty";
const OTHER = "a lantern for the tide gate";
const phone: Caller = { address: "192.0.2.7", device: null, agent: "phone" };

let folder: string;
let store: ReturnType<typeof openStore>;
let nowMs: number;
let people: People;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "nightslab-people-"));
  store = openStore(folder);
  nowMs = Date.UTC(2026, 1, 3, 5);
  people = createPeople({
    store: store.people,
    mode: "on",
    nowMs: () => nowMs,
    steadyMs: () => nowMs,
    siteNames: () => ["Boathouse"],
    budget: { perS: 1000, burst: 1000 },
  });
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

function valueOf<T>(answer: Answer<T>): T {
  if (!answer.ok) expect.fail(JSON.stringify(answer));
  return answer.value;
}
const refusal = <T>(answer: Answer<T>) => (answer.ok ? null : [answer.refusal, answer.faults[0]?.field]);
async function owner(): Promise<Signed> {
  const code = people.firstOwnerCode();
  return valueOf(await people.firstOwner({ code: code ?? "", name: "Ada Ruiz", password: PASSWORD }, phone));
}
const known = (signed: Signed) => {
  const found = people.whoIs(signed.token, phone.address);
  if (found === null) expect.fail("is not signed in");
  return found;
};
async function invited(role: "lead" | "helper" | "inspector", name: string, sites: string[] | null = null) {
  const { token } = valueOf(people.invite({ role, sites }, "Ada Ruiz"));
  return valueOf(await people.accept({ token, name, password: OTHER }, { ...phone, agent: name }));
}

describe("the first owner", () => {
  it("is made by the newest code, once, however it is typed", async () => {
    const old = people.firstOwnerCode() ?? "";
    const code = people.firstOwnerCode() ?? "";
    expect(code).toMatch(/^([A-Z2-9]{4}-){3}[A-Z2-9]{4}$/);
    const who = { name: "Ada Ruiz", password: PASSWORD };
    expect(refusal(await people.firstOwner({ code: old, ...who }, phone))).toEqual(["missing", "/code"]);
    const typed = ` ${code.toLowerCase().replaceAll("-", " ")}`;
    expect(valueOf(await people.firstOwner({ code: typed, ...who }, phone)).who).toEqual({
      ...{ kind: "person", name: "Ada Ruiz", role: "owner", sites: null, zone: null },
    });
    expect(refusal(await people.firstOwner({ code, ...who, name: "Eve" }, phone))).toEqual(["missing", "/code"]);
    expect([people.needsFirstOwner(), people.firstOwnerCode()]).toEqual([false, null]);
  });
  it("has a day for it", async () => {
    const code = people.firstOwnerCode() ?? "";
    nowMs += DAY_MS;
    expect(refusal(await people.firstOwner({ code, name: "Ada", password: PASSWORD }, phone))).toEqual([
      "missing",
      "/code",
    ]);
  });
});

describe("signing in", () => {
  it("takes name and password, whatever the capitals and spaces of the name", async () => {
    await owner();
    const signed = valueOf(await people.signIn({ name: "  ada   RUIZ ".trim(), password: PASSWORD }, phone));
    expect(known(signed).who.name).toBe("Ada Ruiz");
  });
  it("does not tell an unknown name from a wrong password", async () => {
    await owner();
    const wrong = await people.signIn({ name: "Ada Ruiz", password: OTHER }, phone);
    expect(refusal(wrong)).toEqual(["unknown", "/password"]);
    expect(await people.signIn({ name: "Nobody", password: OTHER }, phone)).toEqual(wrong);
  });
  it("keeps neither tokens nor passwords nor codes", async () => {
    const { token, device } = await owner();
    const link = people.makeLink({ role: "client", site: "boathouse", zone: null, label: "Owner of the shed" }, null);
    store.close();
    const { readFileSync, readdirSync } = await import("node:fs");
    const kept = readdirSync(folder).map((name) => readFileSync(join(folder, name)).toString("latin1"));
    for (const secret of [token, device, PASSWORD, link.token])
      expect(kept.some((text) => text.includes(secret))).toBe(false);
    expect(kept.some((text) => text.includes("$argon2id$v=19$m=19456,t=2,p=1$"))).toBe(true);
    store = openStore(folder);
  });
});

describe("sessions", () => {
  it("last over two weeks of quiet and ninety days in all, and not longer", async () => {
    const signed = await owner();
    nowMs += 13 * DAY_MS;
    known(signed);
    for (let day = 0; day < 70; day += 10) {
      nowMs += 10 * DAY_MS;
      known(signed);
    }
    nowMs += 10 * DAY_MS;
    expect(people.whoIs(signed.token, phone.address)).toBeNull();
    const quiet = valueOf(await people.signIn({ name: "Ada Ruiz", password: PASSWORD }, phone));
    nowMs += 14 * DAY_MS;
    expect(people.whoIs(quiet.token, phone.address)).toBeNull();
  });
  it("are ended by signing out, by the owner, and one's own by oneself only", async () => {
    const ada = await owner();
    const jo = await invited("helper", "Jo");
    const kim = await invited("helper", "Kim");
    expect(refusal(people.endSession(known(jo).session, known(kim), false))).toEqual(["missing", "/session"]);
    valueOf(people.endSession(known(jo).session, known(ada), true));
    expect(people.whoIs(jo.token, phone.address)).toBeNull();
    expect(people.sessions(known(kim), false).map(({ name, own }) => [name, own])).toEqual([["Kim", true]]);
    people.signOut(known(kim).session);
    expect(people.whoIs(kim.token, phone.address)).toBeNull();
    expect(people.sessions(known(ada), true)).toHaveLength(1);
  });
  it("all end but one's own when the password changes, and all when it is reset", async () => {
    const first = await owner();
    const second = valueOf(await people.signIn({ name: "Ada Ruiz", password: PASSWORD }, phone));
    expect(refusal(await people.changePassword(known(first), { current: OTHER, password: OTHER }, phone))).toEqual([
      "invalid",
      "/current",
    ]);
    valueOf(await people.changePassword(known(first), { current: PASSWORD, password: OTHER }, phone));
    expect(people.whoIs(second.token, phone.address)).toBeNull();
    known(first);
    const { token } = valueOf(people.makeReset(known(first).id, null));
    const back = valueOf(await people.reset({ token, password: PASSWORD }, phone));
    expect(people.whoIs(first.token, phone.address)).toBeNull();
    known(back);
    expect(refusal(await people.reset({ token, password: PASSWORD }, phone))).toEqual(["missing", "/token"]);
  });
  it("follow a change of role at once, and end with the person", async () => {
    await owner();
    const jo = await invited("helper", "Jo");
    valueOf(people.changePerson(known(jo).id, { role: "inspector", sites: ["boathouse"] }));
    expect(known(jo).who).toMatchObject({ role: "inspector", sites: ["boathouse"] });
    valueOf(people.removePerson(known(jo).id));
    expect(people.whoIs(jo.token, phone.address)).toBeNull();
    expect(refusal(await people.signIn({ name: "Jo", password: OTHER }, phone))).toEqual(["unknown", "/password"]);
  });
});

describe("people", () => {
  it("never lose their last owner", async () => {
    const ada = known(await owner());
    expect(refusal(people.removePerson(ada.id))).toEqual(["conflict", "/person"]);
    expect(refusal(people.changePerson(ada.id, { role: "lead" }))).toEqual(["conflict", "/role"]);
    expect(refusal(people.changePerson(ada.id, { sites: ["boathouse"] }))).toEqual(["invalid", "/sites"]);
  });
  it("come by an invitation that works once, with role and sites, until it ends or is taken back", async () => {
    await owner();
    const { token, id, path } = valueOf(people.invite({ role: "lead", sites: ["boathouse"], note: "Jo" }, "Ada Ruiz"));
    expect(path).toBe(`/invite#${token}`);
    expect(valueOf(people.offer(token))).toMatchObject({ role: "lead", sites: ["boathouse"] });
    expect(refusal(await people.accept({ token, name: "ADA ruiz", password: OTHER }, phone))).toEqual([
      "conflict",
      "/name",
    ]);
    const jo = valueOf(await people.accept({ token, name: "Jo", password: OTHER }, phone));
    expect(jo.who).toMatchObject({ role: "lead", sites: ["boathouse"] });
    expect(refusal(people.offer(token))).toEqual(["missing", "/token"]);
    expect(refusal(people.withdrawInvitation(id))).toEqual(["missing", "/invitation"]);
    const late = valueOf(people.invite({ role: "helper", sites: null, days: 2 }, null));
    const gone = valueOf(people.invite({ role: "helper", sites: null }, null));
    valueOf(people.withdrawInvitation(gone.id));
    nowMs += 2 * DAY_MS;
    expect(people.invitations()).toEqual([]);
    for (const { token: dead } of [late, gone]) expect(refusal(people.offer(dead))).toEqual(["missing", "/token"]);
  });
  it("two who take one invitation at the same moment are one", async () => {
    await owner();
    const { token } = valueOf(people.invite({ role: "helper", sites: null }, null));
    const both = await Promise.all(["Jo", "Kim"].map((name) => people.accept({ token, name, password: OTHER }, phone)));
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
    expect(people.people()).toHaveLength(2);
  });
});

describe("links", () => {
  const wish = { role: "inspector", site: "boathouse", zone: "slip", label: "Coating inspector" } as const;
  it("open for their role, site and zone, until withdrawn: then whoever came by them is out", () => {
    const { token, id } = people.makeLink(wish, "Ada Ruiz");
    const opened = valueOf(people.openLink(token, phone));
    expect(known(opened).who).toEqual({
      ...{ kind: "link", name: "Coating inspector", role: "inspector", sites: ["boathouse"], zone: "slip" },
    });
    valueOf(people.withdrawLink(id));
    expect(people.whoIs(opened.token, phone.address)).toBeNull();
    expect(refusal(people.openLink(token, phone))).toEqual(["missing", "/token"]);
    expect(people.links()).toEqual([]);
  });
  it("end by their days, with the sessions that came by them", () => {
    const { token } = people.makeLink({ ...wish, days: 3 }, null);
    const opened = valueOf(people.openLink(token, phone));
    nowMs += 3 * DAY_MS;
    expect(people.whoIs(opened.token, phone.address)).toBeNull();
    expect(refusal(people.openLink(token, phone))).toEqual(["missing", "/token"]);
  });
});

it("the audit is added to, read by pages, and never changed", () => {
  const line = { role: "owner", about: "", address: "192.0.2.7" } as const;
  for (const [who, site] of [
    ["Ada", "a"],
    ["Jo", "b"],
    ["Ada", "b"],
  ] as const)
    people.note({ ...line, who, site, did: `PUT ${site}` });
  const all = { before: null, who: null, site: null, limit: 10 };
  expect(people.audit(all).map(({ seq }) => seq)).toEqual([3, 2, 1]);
  expect(people.audit({ ...all, before: 3, limit: 1 }).map(({ did }) => did)).toEqual(["PUT b"]);
  expect(people.audit({ ...all, who: "Ada", site: "b" }).map(({ seq, at }) => [seq, at])).toEqual([
    [3, "2026-02-03T05:00:00Z"],
  ]);
});
