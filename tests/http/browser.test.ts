// The built dashboard in a browser, through the real door: its guards and its content policy hold nothing of it back.
import type { FastifyInstance } from "fastify";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildHttp } from "../../server/http/server.ts";
import { createStream, type Stream } from "../../server/stream/stream.ts";
import { builtDashboard } from "../support/built-dashboard.ts";
import { openChromium, type OpenBrowser } from "../support/chromium.ts";
import { fakeDesk } from "../support/fake-desk.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { SAMPLE_AT_MS } from "../support/sample-site.ts";

let app: FastifyInstance;
let stream: Stream;
let browser: OpenBrowser;
let url: string;
beforeAll(async () => {
  const startId = "run-1";
  stream = createStream({ startId, nowMs: () => SAMPLE_AT_MS, snapshot: () => SAMPLE_BOARD, logger: false });
  app = await buildHttp({ desk: fakeDesk(), stream, logger: false, dashboardDir: await builtDashboard(), startId });
  url = await app.listen({ host: "127.0.0.1", port: 0 });
  browser = await openChromium();
});
afterAll(async () => {
  await browser.close();
  await app.close();
});

it("shows every zone, follows the stream, and nothing in it was refused", async () => {
  const page = await browser.context.newPage();
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("response", (response) => {
    if (response.status() >= 400) complaints.push(`${response.status()} ${response.url()}`);
  });
  await page.goto(url);
  for (const { zone } of SAMPLE_BOARD.zones) await page.getByText(zone.name, { exact: true }).first().waitFor();
  await expect.poll(() => stream.stats().clients).toBe(1);
  const [first] = SAMPLE_BOARD.zones;
  if (first === undefined) throw new Error("the sample board is empty");
  stream.publish("boathouse", "zone", "slip", { ...first, zone: { ...first.zone, name: "Slip, north end" } });
  await page.getByText("Slip, north end", { exact: true }).first().waitFor();
  expect(complaints).toEqual([]);
});
