// Calendars through the door of the whole server: made, asked without signing in, withdrawn.
import { afterAll, beforeAll, expect, it } from "vitest";
import { runApp, type RunningApp } from "../support/running-app.ts";
import { SITE } from "../support/small-site.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp();
});
afterAll(() => running.end());

const ask = (path: string, method = "GET", body: unknown = null) =>
  fetch(`${running.httpUrl}${path}`, {
    method,
    ...(body === null ? {} : { headers: { "content-type": "application/json" }, body: JSON.stringify(body) }),
  });
const list = `/api/v1/sites/${SITE.id}/calendars`;

it("are made, told to whoever has the address, listed without it, and end", async () => {
  const made = await ask(list, "POST", { label: "Rosa's phone", language: "es" });
  expect(made.status).toBe(201);
  const { id, path } = (await made.json()) as { id: string; path: string };
  const feed = await ask(path);
  expect([feed.status, feed.headers.get("content-type")]).toEqual([200, "text/calendar; charset=utf-8"]);
  expect(await feed.text()).toMatch(/^BEGIN:VCALENDAR\r\nVERSION:2\.0\r\n/);
  const listed = await (await ask(list)).text();
  expect(JSON.parse(listed)).toMatchObject({ calendars: [{ id, label: "Rosa's phone", language: "es" }] });
  expect(listed).not.toContain(path);
  expect((await ask(`${list}/${id}`, "DELETE")).status).toBe(204);
  for (const address of [path, "/api/v1/calendar/never.ics"]) {
    const gone = await ask(address);
    expect(gone.status).toBe(404);
    expect(await gone.json()).toMatchObject({ faults: [{ field: "/token" }] });
  }
  expect((await ask(`${list}/${id}`, "DELETE")).status).toBe(404);
  expect((await ask("/api/v1/sites/nowhere/calendars")).status).toBe(404);
  expect((await ask(list, "POST", { label: "x", language: "fr" })).status).toBe(422);
});
