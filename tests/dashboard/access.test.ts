// Who is signed in on this device, what the role lets in, addresses of the ways in, and names of devices.
import { describe, expect, it } from "vitest";
import {
  type AccessBody,
  MAY,
  type May,
  PASSWORD_LONGEST,
  PASSWORD_SHORTEST,
  ROLES,
  type Who,
} from "#contract/access.ts";
import { routeOf } from "../../dashboard/app/route.ts";
import { ApiFailure } from "../../dashboard/data/api.ts";
import type { Keep } from "../../dashboard/data/keep.ts";
import { isOut, mayOf, sessionDesk as deskOver, writerOf } from "../../dashboard/data/session.ts";
import { type Floor, groupsOf } from "../../dashboard/features/client/groups.ts";
import { deviceName } from "../../dashboard/features/people/device-name.ts";
import { newFaults } from "../../dashboard/features/sign-in/new-password.ts";
import { enAccess } from "../../dashboard/text/en-access.ts";
import { esAccess } from "../../dashboard/text/es-access.ts";

const person = (name: string, role: Who["role"] = "helper"): Who => ({
  kind: "person",
  name,
  role,
  sites: null,
  zone: null,
});
const on = (who: Who | null): AccessBody => ({ accounts: "on", firstOwner: false, who, sites: [] });
const off: AccessBody = { accounts: "off", firstOwner: false, who: null, sites: [] };

const never = () => undefined;
const sessionDesk = (keep: Keep, ask: () => Promise<AccessBody>, later: (run: () => void) => void = never) =>
  deskOver(keep, ask, later);

function keepOf(first: Record<string, unknown>): Keep & { readonly kept: Map<string, unknown> } {
  const kept = new Map(Object.entries(first));
  return {
    kept,
    read: (key) => kept.get(key) ?? null,
    write: (key, value) => kept.set(key, value) === kept,
    drop: (prefix) => [...kept.keys()].filter((key) => key.startsWith(prefix)).forEach((key) => kept.delete(key)),
  };
}

describe("the session on this device", () => {
  it("is known at once from what was kept, and sure only when the server has said so", async () => {
    const desk = sessionDesk(keepOf({ access: on(person("Rosa")) }), () => Promise.resolve(on(person("Rosa"))));
    expect(desk.signal.get()).toMatchObject({ access: on(person("Rosa")), sure: false });
    await desk.refresh();
    expect(desk.signal.get()).toMatchObject({ sure: true, ended: false });
  });

  it("stays while the server is out of reach, and asks again until it is sure", async () => {
    let up = false;
    const again: (() => void)[] = [];
    const desk = sessionDesk(
      keepOf({ access: on(person("Rosa")) }),
      () => (up ? Promise.resolve(on(person("Rosa"))) : Promise.reject(new ApiFailure("reach", 0, "no answer"))),
      (run) => again.push(run),
    );
    await desk.refresh();
    expect(desk.signal.get()).toMatchObject({ access: on(person("Rosa")), sure: false });
    up = true;
    again[0]?.();
    await desk.refresh();
    expect(desk.signal.get().sure).toBe(true);
    up = false;
    await desk.refresh();
    expect(again).toHaveLength(1);
  });

  it("ended by the server says so, and takes the kept boards but not the outbox", async () => {
    const keep = keepOf({
      access: on(person("Rosa")),
      "board.boathouse": {},
      sites: [],
      outbox: [1],
      prefs: { language: "es" },
    });
    const desk = sessionDesk(keep, () => Promise.resolve(on(null)));
    await desk.refresh();
    expect(desk.signal.get()).toMatchObject({ access: on(null), ended: true });
    expect([...keep.kept.keys()].sort()).toEqual(["access", "outbox", "prefs"]);
  });

  it("left by the person is not told as ended", () => {
    const desk = sessionDesk(keepOf({ access: on(person("Rosa")) }), () => Promise.resolve(on(null)));
    desk.take(on(null));
    expect(desk.signal.get().ended).toBe(false);
  });

  it("another person on the phone sees nothing of what the first one kept", () => {
    const keep = keepOf({ access: on(person("Rosa")), "board.boathouse": {} });
    const desk = sessionDesk(keep, () => Promise.reject(new Error("not asked")));
    const before = desk.signal.get().key;
    desk.take(on(person("Luis")));
    expect(keep.kept.has("board.boathouse")).toBe(false);
    expect(desk.signal.get().key).not.toBe(before);
  });

  it("asks once for many refusals, and doubts when another page has changed it", async () => {
    let asked = 0;
    const desk = sessionDesk(keepOf({ access: on(person("Rosa")) }), () => {
      asked += 1;
      return Promise.resolve(on(person("Luis")));
    });
    await Promise.all([desk.refresh(), desk.refresh(), desk.refresh()]);
    expect(asked).toBe(1);
    desk.doubt();
    expect(desk.signal.get().sure).toBe(false);
    await desk.refresh();
    expect(asked).toBe(2);
    expect(desk.signal.get().sure).toBe(true);
  });

  it("nobody has to sign in where accounts are off, nor at a server that knows of none", async () => {
    const desk = sessionDesk(keepOf({}), () => Promise.reject(new ApiFailure("refused", 404, "Not found")));
    await desk.refresh();
    expect(isOut(desk.signal.get().access)).toBe(false);
    expect(desk.signal.get().sure).toBe(true);
    expect(writerOf(off)).toBeNull();
    expect(mayOf(off, "own")).toBe(true);
  });

  it("reads nonsense in the storage as nothing", () => {
    for (const kept of [7, "x", [], { accounts: "on" }, { accounts: "on", who: null }])
      expect(sessionDesk(keepOf({ access: kept }), () => Promise.reject(new Error())).signal.get().access).toBeNull();
  });

  it("a link looks and never writes", () => {
    const link: Who = { kind: "link", name: "Mr Avery", role: "inspector", sites: ["boathouse"], zone: null };
    expect(writerOf(on(link))).toBeUndefined();
    expect(writerOf(on(null))).toBeUndefined();
    expect(writerOf(on(person("Rosa")))).toBe("Rosa");
  });
});

// Truth: the table of the contract, by which the server decides.
describe("what a role is shown", () => {
  it.each(Object.keys(MAY) as May[])("%s: the same as the server lets in", (may) => {
    for (const role of ROLES)
      expect([role, mayOf(on(person("x", role)), may)]).toEqual([role, (MAY[may] as readonly string[]).includes(role)]);
    expect(mayOf(on(null), may)).toBe(false);
  });
});

describe("addresses of the ways in", () => {
  it.each([
    ["/invite", "#abc", { page: "invite", token: "abc" }],
    ["/reset", "#ABCD-EFGH", { page: "reset", token: "ABCD-EFGH" }],
    ["/link", "#x_-y", { page: "link", token: "x_-y" }],
    ["/reset", "", { page: "reset", token: "" }],
    ["/link", "", { page: "board", site: null }],
    ["/", "#/people", { page: "people", part: null }],
    ["/", "#/me", { page: "me", part: null }],
    ["/", "#/site/a/people", { page: "unknown" }],
    ["/elsewhere", "#/zone/slip", { page: "zone", site: null, part: "slip" }],
  ])("%s%s", (path, hash, route) => {
    expect(routeOf(path, hash)).toEqual(route);
  });
});

describe("a new password", () => {
  it("is held against the lengths of the contract before the server is asked", () => {
    const fault = (password: string) => newFaults({ name: "Rosa", password }, enAccess)["password"];
    expect(fault("x".repeat(PASSWORD_SHORTEST - 1))).toBe(enAccess.form.short(PASSWORD_SHORTEST));
    expect(fault("x".repeat(PASSWORD_SHORTEST))).toBeUndefined();
    expect(fault("x".repeat(PASSWORD_LONGEST))).toBeUndefined();
    expect(fault("x".repeat(PASSWORD_LONGEST + 1))).toBe(enAccess.form.long(PASSWORD_LONGEST));
    // A sign outside the first plane is one sign to the person who types it.
    expect(fault("\u{1f9f1}".repeat(PASSWORD_SHORTEST - 1))).toBe(enAccess.form.short(PASSWORD_SHORTEST));
  });
  it("asks for what else is missing", () => {
    expect(newFaults({ code: " ", name: "", password: "long enough to pass" }, esAccess)).toEqual({
      code: esAccess.first.needCode,
      name: esAccess.form.needName,
    });
  });
});

// User agents written after the forms that browsers send; from memory.
describe("the name of a device", () => {
  it.each([
    [
      "Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/120.0.0.0 Mobile Safari/537.36",
      "Chrome",
      "Android",
    ],
    [
      "Mozilla/5.0 (iPhone; CPU iPhone OS 17_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/17.1 Mobile/15E148 Safari/604.1",
      "Safari",
      "iPhone",
    ],
    ["Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:121.0) Gecko/20100101 Firefox/121.0", "Firefox", "Windows"],
    [
      "Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/120.0.0.0 Safari/537.36 Edg/120.0.0.0",
      "Edge",
      "Windows",
    ],
    ["curl/8.5.0", null, null],
    ["", null, null],
  ])("%s", (agent, browser, system) => {
    expect(deviceName(agent)).toEqual({ browser, system });
  });
});

describe("the floors of a client's page", () => {
  const floor = (zone: string, kind: Floor["floor"], leave: Floor["leave"]): Floor => ({
    ...{ zone, name: zone, floor: kind, walkOnAt: null, driveOnAt: null, washAt: null, estimated: false, leave },
  });
  it("are said together where the same is to be said, and alone where they have dates", () => {
    const groups = groupsOf([
      floor("a", "more-coats", ["keep-off"]),
      floor("b", "last-coat", ["keep-off"]),
      floor("c", "more-coats", ["keep-off"]),
      floor("d", "last-coat", ["keep-off"]),
      floor("e", "bare", ["keep-off"]),
      floor("f", "more-coats", ["keep-off", "keep-warm"]),
    ]);
    expect(groups.map((group) => group.map(({ zone }) => zone).join(""))).toEqual(["ac", "b", "d", "e", "f"]);
  });
});

describe("the texts", () => {
  const keysOf = (value: unknown, path = ""): string[] =>
    typeof value === "object" && value !== null
      ? Object.entries(value).flatMap(([key, inner]) => keysOf(inner, `${path}.${key}`))
      : [`${path} ${typeof value}`];
  it("are complete in both languages, and no sentence is left in the other", () => {
    expect(keysOf(esAccess)).toEqual(keysOf(enAccess));
  });
});
