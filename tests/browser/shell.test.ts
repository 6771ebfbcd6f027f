// The page as an app on the device: opens without a server, is offered anew and never forced, rings and answers by its worker.
import type { Worker } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import type { PushMessage } from "#contract/notify.ts";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { openPage, type OpenPage } from "./open-page.ts";

const NOBODY = /ERR_CONNECTION|ERR_SOCKET_NOT_CONNECTED|ERR_EMPTY|ERR_INCOMPLETE|ERR_FAILED|Failed to fetch/;
const EN = { language: "en", units: "us" } as const;

const kept = ({ page }: OpenPage) =>
  vi.waitFor(
    async () => {
      const ready = await page.evaluate(
        async () => (await caches.match("/")) !== undefined && navigator.serviceWorker.controller !== null,
      );
      if (!ready) throw new Error("the page is not kept yet");
    },
    { timeout: 30_000, interval: 200 },
  );

describe("the page on a device", () => {
  it("names itself to a home screen in both languages, with icons that are there", async () => {
    const server = await startBoardServer();
    const { page, close } = await openPage(server.url, {}, EN);
    await page.locator(".row").first().waitFor();
    const names = await page.evaluate(async () => {
      const found: string[] = [];
      for (const language of ["en", "es"]) {
        const manifest = await (await fetch(`/${language}.webmanifest`)).json();
        const sizes = manifest.icons.map(async ({ src, sizes: stated }: { src: string; sizes: string }) => {
          const image = await createImageBitmap(await (await fetch(src)).blob()).catch(() => null);
          return `${stated} ${image?.width ?? "drawn"}`;
        });
        found.push(manifest.lang, ...(await Promise.all(sizes)));
      }
      return found;
    });
    const icons = ["any drawn", "192x192 192", "512x512 512", "512x512 512"];
    expect(names).toEqual(["en", ...icons, "es", ...icons]);
    await page.getByRole("button", { name: "ES: cambiar a español" }).click();
    await expect.poll(() => page.locator("link[rel=manifest]").getAttribute("href")).toBe("/es.webmanifest");
    await close();
    await server.kill();
  });

  it("opens without the server on pages that were never opened, and keeps no answer of the API", async () => {
    const server = await startBoardServer();
    const opened = await openPage(server.url, {}, EN, NOBODY);
    const { page, close } = opened;
    await page.locator(".row").first().waitFor();
    await kept(opened);
    const addresses = await page.evaluate(async () => {
      const all: string[] = [];
      for (const name of await caches.keys())
        for (const { url } of await (await caches.open(name)).keys()) all.push(new URL(url).pathname);
      return all;
    });
    expect(addresses.some((path) => path.startsWith("/assets/alarms-room"))).toBe(true);
    expect(addresses.filter((path) => path.startsWith("/api/"))).toEqual([]);
    await server.kill();
    await page.goto(`${server.url}/#/site/boathouse/alarms`);
    await page.reload();
    await page.getByRole("heading", { name: "Alarms" }).waitFor();
    await page.getByText(/Server out of reach since/).waitFor({ timeout: 20_000 });
    await page.getByRole("link", { name: "Board" }).click();
    await page.locator(".board-old").waitFor();
    await close();
  });

  it("offers a newer version, and loads it when somebody says so", async () => {
    const server = await startBoardServer();
    const opened = await openPage(server.url, {}, EN);
    const { page, close } = opened;
    await kept(opened);
    server.files.set("/shell.js", 'self.SHELL = {"version":"later","files":["/"]};');
    await page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));
    const button = page.getByRole("button", { name: "Load it now" });
    await button.waitFor();
    await page.evaluate(() => Object.assign(globalThis, { before: true }));
    expect(await page.evaluate(() => caches.keys())).toHaveLength(2);
    await button.click();
    await expect.poll(() => page.evaluate(() => "before" in globalThis).catch(() => true)).toBe(false);
    await page.locator(".row").first().waitFor();
    expect(await page.evaluate(() => caches.keys())).toEqual(["nightslab-shell-later"]);
    await close();
    await server.kill();
  });
});

describe("the worker rings", () => {
  let server: BoardServer;
  let opened: OpenPage;
  let worker: Worker;
  const MESSAGE: PushMessage = {
    ...{ title: "Slip bay: dew threatens the film", body: "Warm the slab.", tag: "one-alarm", level: "wake" },
    ...{ language: "en", open: "/#/site/boathouse/zone/slip", acknowledge: "/api/reply/secret" },
  };
  beforeAll(async () => {
    server = await startBoardServer();
    opened = await openPage(server.url, {}, EN, NOBODY);
    await opened.page.context().grantPermissions(["notifications"], { origin: server.url });
    await kept(opened);
    worker = opened.page.context().serviceWorkers()[0] ?? (await opened.page.context().waitForEvent("serviceworker"));
  });
  afterAll(async () => {
    await opened.close();
  });

  /** Sends an event to the worker and waits for all that it keeps it alive for. */
  const happen = (name: string, detail: object) =>
    worker.evaluate(
      async ([type, given]) => {
        const waits: Promise<unknown>[] = [];
        const registration = (globalThis as unknown as { registration: ServiceWorkerRegistration }).registration;
        const [notification] = await registration.getNotifications();
        const event = Object.assign(new Event(type), {
          waitUntil: (one: Promise<unknown>) => void waits.push(one),
          data: "text" in given ? { json: () => JSON.parse(String(given.text)) as unknown } : null,
          action: "action" in given ? String(given.action) : "",
          notification,
        });
        globalThis.dispatchEvent(event);
        await Promise.all(waits);
      },
      [name, detail] as const,
    );
  const shown = () =>
    worker.evaluate(async () => {
      const registration = (globalThis as unknown as { registration: ServiceWorkerRegistration }).registration;
      const all = await registration.getNotifications();
      return all.map(({ title, body, tag }) => ({ title, body, tag }));
    });
  const push = (message: object) => happen("push", { text: JSON.stringify(message) });

  it("with title, text and tag, so that a later message takes the place of an earlier one", async () => {
    await push(MESSAGE);
    await push({ ...MESSAGE, title: "Slip bay: dew on the fresh film now" });
    expect(await shown()).toEqual([
      { title: "Slip bay: dew on the fresh film now", body: "Warm the slab.", tag: "one-alarm" },
    ]);
  });

  it("acknowledges by the link, and a tap opens the zone", async () => {
    await push(MESSAGE);
    await happen("notificationclick", { action: "acknowledge" });
    expect(server.posted).toEqual(["/api/reply/secret"]);
    expect(await shown()).toMatchObject([{ title: "Seen: Slip bay: dew threatens the film" }]);
    await happen("notificationclick", { action: "open" });
    await expect.poll(() => opened.page.url()).toMatch(/#\/site\/boathouse\/zone\/slip$/);
  });

  it("shows something where it cannot read what came", async () => {
    await happen("push", { text: "{" });
    expect(await shown()).toMatchObject([{ title: "Nightslab", tag: "unreadable" }]);
    await happen("notificationclick", { action: "open" });
  });

  it("says so where the answer did not get through, and asks again", async () => {
    await push({ ...MESSAGE, language: "es" });
    await server.kill();
    await happen("notificationclick", { action: "acknowledge" });
    expect(await shown()).toMatchObject([
      { title: MESSAGE.title, body: "No entregado: el servidor no está al alcance. Warm the slab.", tag: "one-alarm" },
    ]);
  });
});
