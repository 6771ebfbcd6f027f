// The three helpers that other tests stand on: a free port, a real broker, a real browser.
import { connect } from "mqtt";
import { afterAll, describe, expect, it } from "vitest";
import { openChromium } from "../support/chromium.ts";
import { startMosquitto } from "../support/mosquitto.ts";

const closers: (() => Promise<unknown>)[] = [];
afterAll(async () => {
  for (const close of closers) await close();
});

describe("the broker of the tests", () => {
  it("keeps a retained message over a restart", async () => {
    const broker = await startMosquitto();
    closers.push(broker.stop);
    const client = connect(broker.url, { reconnectPeriod: 50 });
    closers.push(() => client.endAsync(true));
    await client.publishAsync("house/note", "kept", { qos: 1, retain: true });
    await client.endAsync();
    await broker.restart("ask");
    const reader = connect(broker.url);
    closers.push(() => reader.endAsync(true));
    const heard = new Promise<string>((resolve) => reader.on("message", (_topic, body) => resolve(body.toString())));
    await reader.subscribeAsync("house/note", { qos: 1 });
    expect(await heard).toBe("kept");
  });

  it("asks for a password and keeps to the access list when told to", async () => {
    const broker = await startMosquitto({ users: { nora: "plum" }, acl: "user nora\ntopic write house/in" });
    closers.push(broker.stop);
    const stranger = connect(broker.url, { reconnectPeriod: 0 });
    const refusal = await new Promise<Error>((resolve) => stranger.once("error", resolve));
    expect(refusal.message).toContain("Not authorized");
    const known = connect(broker.url, { username: "nora", password: "plum", reconnectPeriod: 0 });
    closers.push(() => known.endAsync(true));
    await new Promise((resolve) => known.once("connect", resolve));
    expect(known.connected).toBe(true);
  });
});

describe("the browser of the tests", () => {
  it("starts with an empty profile, size, zone and language as asked", async () => {
    const browser = await openChromium({ widthPx: 412, heightPx: 915, timezoneId: "America/Chicago", locale: "en-US" });
    closers.push(browser.close);
    const page = await browser.context.newPage();
    await page.setContent("<h1>slab</h1>");
    const seen = await page.evaluate(() => ({
      title: document.querySelector("h1")?.textContent,
      widthPx: window.innerWidth,
      zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    }));
    expect(seen).toEqual({ title: "slab", widthPx: 412, zone: "America/Chicago" });
  });
});
