// The demo as its visitor sees it, whole: real nodes, broker, store, judge, server and browser.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { openPage } from "./open-page.ts";

const root = new URL("../..", import.meta.url).pathname;
// What the browser itself writes when its fetches find nobody, in its many words.
const NOBODY = /ERR_|fetch/i;
// A limit and no measure: how fast it is, the bench says.
const LATE_MS = 60_000;

let tmp = "";
let child: ChildProcess;
let said = "";
let httpUrl = "";
let mqttUrl = "";

beforeAll(async () => {
  tmp = await mkdtemp(join(tmpdir(), "nightslab-demo-page-"));
  child = spawn(process.execPath, ["--import", "tsx", "firmware-sim/demo.ts", "--port", "0"], {
    cwd: root,
    env: { ...process.env, TMPDIR: tmp },
  });
  child.stdout?.on("data", (data: Buffer) => {
    said += data.toString();
  });
  child.stderr?.on("data", (data: Buffer) => {
    said += data.toString();
  });
  await vi.waitUntil(() => said.includes("Ctrl-C stops."), { timeout: 110_000 });
  httpUrl = /Open (http:\S+)/.exec(said)?.[1] ?? "";
  mqttUrl = /(mqtt:\/\/127\.0\.0\.1:\d+)/.exec(said)?.[1] ?? "";
});

afterAll(async () => {
  if (child.exitCode === null) child.kill("SIGKILL");
  await rm(tmp, { recursive: true, force: true });
});

/** The calls on the board by zone name. */
async function callsOn(page: Page): Promise<Record<string, string>> {
  const rows = await page.locator(".row").all();
  const calls: Record<string, string> = {};
  for (const row of rows) {
    const [name] = (await row.innerText()).split("\n");
    calls[(name ?? "").trim()] = (await row.locator(".call").innerText()).trim();
  }
  return calls;
}

const oarStore = (page: Page) => page.locator(".row", { hasText: "Oar store" });

describe("the demo in a browser", () => {
  it("shows its five calls", async () => {
    const { page, close } = await openPage(httpUrl, {}, { language: "en", units: "us" });
    await page.locator(".row").nth(4).waitFor();
    expect(await callsOn(page)).toEqual({
      Clubroom: "POUR",
      "Entrance hall": "FINISHED",
      "Launch bay": "WAIT",
      "Oar store": "WAIT",
      Workshop: "ABRADE",
    });
    expect(await oarStore(page).innerText()).toContain("No reading for");
    await close();
  });

  it("shows a node's packet without being asked", async () => {
    const { page, close } = await openPage(httpUrl, {}, { language: "en", units: "us" });
    await oarStore(page).getByText("No reading for").waitFor();
    const node = await connectAsync(mqttUrl, { clientId: "oar-test" });
    const pack = [
      { bn: "oars-1/", n: "slab", u: "Cel", v: 6.25 },
      { n: "air", u: "Cel", v: 7.5 },
      { n: "rh", u: "%RH", v: 61 },
    ];
    const topic = topicOf({ kind: "senml", site: "heron-reach", node: "oars-1" });
    await node.publishAsync(topic, JSON.stringify(pack), { qos: 1 });
    await oarStore(page).getByText("No reading for").waitFor({ state: "detached", timeout: LATE_MS });
    await node.endAsync();
    await close();
  });

  it("abraded and cleaned turn the zone that asked for it", async () => {
    const { page, close } = await openPage(httpUrl, { widthPx: 390, heightPx: 844, touch: true }, { language: "en" });
    await page.getByRole("link", { name: /^Workshop/ }).click();
    await page.locator(".call", { hasText: "ABRADE" }).first().waitFor();
    for (const step of ["Abraded", "Cleaned"]) {
      await page.getByRole("button", { name: step, exact: true }).click();
      await page.getByRole("dialog").getByRole("button", { name: "Write it down" }).click();
      await page.getByRole("status").getByText(`Written: ${step.toLowerCase()}.`).waitFor();
    }
    await page.locator(".call", { hasText: "ABRADE" }).first().waitFor({ state: "detached", timeout: LATE_MS });
    expect(await page.locator(".call").first().innerText()).toMatch(/POUR|WAIT/);
    await close();
  });

  it("a board whose server was killed grows old", async () => {
    const { page, close } = await openPage(httpUrl, {}, { language: "en" }, NOBODY);
    await page.locator(".row").nth(4).waitFor();
    // The program itself shows the board, no more the picture that the server drew, and all of the page is here: what is cut
    // off is the server, and not its files on their way.
    await page.waitForFunction(() => document.getElementById("drawn") === null);
    const files = () => page.evaluate(() => performance.getEntriesByType("resource").length);
    await expect
      .poll(
        async () => {
          const before = await files();
          await page.waitForTimeout(1000);
          return (await files()) - before;
        },
        { timeout: 30_000 },
      )
      .toBe(0);
    child.kill("SIGKILL");
    await page.getByText(/Server out of reach since/).waitFor({ timeout: 60_000 });
    await expect.poll(() => page.locator(".call-old").count()).toBe(5);
    await close();
  });
});
