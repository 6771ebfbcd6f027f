// Links in messages: a program that opens them does nothing; the button acknowledges, once, for twelve hours.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { WebhookMessage } from "#contract/notify.ts";
import { replyHtml } from "../../server/http/reply-page.ts";
import { type Door, openDoor } from "../support/http-door.ts";
import { type House, openHouse } from "./house.ts";
import { type Hook, openHook } from "./post-box.ts";
import { NIGHT_MS, stepAt } from "./sample-alarm.ts";

const H = 3_600_000;
let house: House;
let hook: Hook;
let door: Door;
beforeEach(async () => {
  hook = await openHook();
  house = openHouse();
  door = await openDoor({ notify: house.desk });
  house.add({ language: "es", webhook: { url: hook.url, levels: ["wake"], secret: "a secret of sixteen" } });
});
afterEach(async () => {
  await door.app.close();
  await house.end();
  await hook.close();
});

/** Raises the alarm and gives the path of the link that came with it. */
async function linkOf(): Promise<string> {
  await house.tell([stepAt("raised", NIGHT_MS)]);
  const message = JSON.parse(hook.taken.splice(0)[0]?.body ?? "{}") as WebhookMessage;
  return new URL(message.acknowledge ?? "").pathname;
}
const open = (path: string) => door.app.inject({ method: "GET", url: path });
const press = (path: string) =>
  door.app.inject({
    method: "POST",
    url: path,
    headers: { "content-type": "application/x-www-form-urlencoded" },
    payload: "",
  });
const state = () => house.standing.get("a-slip-dew")?.state;

it("opening it, however often, shows the alarm with a button and acknowledges nothing", async () => {
  const path = await linkOf();
  for (const method of ["GET", "GET", "HEAD"] as const) await door.app.inject({ method, url: path });
  const { statusCode, body, headers } = await open(path);
  expect(statusCode).toBe(200);
  expect(body).toContain(`<form method="post" action="${path}">`);
  expect(body).toContain('<html lang="es">');
  expect(body).toContain("Me ocupo yo");
  expect(state()).toBe("open");
  // No script, no style and no word of it from elsewhere, and nobody else learns the address.
  expect(body).not.toMatch(/<script|<style|style=|onclick|https?:/);
  expect(headers["content-security-policy"]).toContain("default-src 'self'");
  expect(headers).toMatchObject({ "cache-control": "no-store", "referrer-policy": "same-origin" });
});

it("pressing the button acknowledges in the contact's name, and the page says so", async () => {
  const path = await linkOf();
  const { statusCode, body } = await press(path);
  expect(statusCode).toBe(200);
  expect(body).toContain("Ada Ruiz se ocupa.");
  expect(house.standing.get("a-slip-dew")).toMatchObject({ state: "acknowledged", acknowledgedBy: "Ada Ruiz" });
  expect((await open(path)).body).not.toContain("<form");
});

it("it acts once: not for a later turn of the same alarm", async () => {
  const path = await linkOf();
  await press(path);
  const alarm = house.standing.get("a-slip-dew");
  if (alarm === undefined) expect.fail("no alarm");
  house.standing.set(alarm.id, { ...alarm, state: "open", acknowledgedBy: null });
  expect([(await open(path)).statusCode, (await press(path)).statusCode]).toEqual([410, 410]);
  expect(state()).toBe("open");
});

it("it lasts twelve hours", async () => {
  const path = await linkOf();
  house.nowMs += 12 * H;
  expect((await open(path)).statusCode).toBe(200);
  house.nowMs += 1;
  const late = await press(path);
  expect(late.statusCode).toBe(410);
  // Nobody knows whose it was: both languages.
  expect(late.body).toContain('lang="en"');
  expect(late.body).toContain('lang="es"');
  expect(state()).toBe("open");
});

describe("what is no link of this server", () => {
  it.each([
    ["another number", (token: string) => token.replace(/^1/, "2")],
    ["another end", (token: string) => `${token.slice(0, -1)}${token.endsWith("A") ? "B" : "A"}`],
    ["half of it", (token: string) => token.slice(0, 12)],
    ["nothing like one", () => "..%2F..%2Fetc"],
  ])("%s", async (_what, changed) => {
    const path = await linkOf();
    const wrong = `/api/reply/${changed(path.split("/").at(-1) ?? "")}`;
    expect((await press(wrong)).statusCode).toBe(410);
    expect(state()).toBe("open");
  });
  it("a button on somebody else's page", async () => {
    const path = await linkOf();
    const headers = { origin: "https://elsewhere.example", "content-type": "application/x-www-form-urlencoded" };
    expect((await door.app.inject({ method: "POST", url: path, headers, payload: "" })).statusCode).toBe(403);
    expect(state()).toBe("open");
  });
});

it("what people typed is written as text", () => {
  const html = replyHtml(
    { state: "done", language: "en", title: "<b>Slip & Co", body: '"x"', by: "<img src=x>", path: "/#/site/a" },
    "1.x",
  );
  expect(html).toContain("&lt;b&gt;Slip &amp; Co");
  expect(html).not.toMatch(/<img|<b>/);
});

it("another answer came first: the link says who has it", async () => {
  const path = await linkOf();
  const alarm = house.standing.get("a-slip-dew");
  if (alarm === undefined) expect.fail("no alarm");
  house.standing.set(alarm.id, { ...alarm, state: "acknowledged", acknowledgedBy: "Bo" });
  expect((await press(path)).body).toContain("Bo se ocupa.");
  expect(house.standing.get("a-slip-dew")?.acknowledgedBy).toBe("Bo");
});
