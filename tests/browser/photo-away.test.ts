// A photo taken where no server is: it waits on the phone through a reload, and arrives once, in its turn.
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { startBoardServer } from "../support/board-server.ts";
import { openPage } from "./open-page.ts";

const AWAY = /ERR_|Failed to fetch|status of 404/;

describe("a photo and an entry without the server", () => {
  it("arrive once each, in order, after a reload", async () => {
    const server = await startBoardServer();
    const { page, close } = await openPage(
      `${server.url}/#/site/boathouse/record/rigging`,
      { widthPx: 390, heightPx: 844, touch: true },
      { language: "en", units: "us" },
      AWAY,
    );
    await page.getByRole("heading", { name: "Take a photo" }).waitFor();
    await expect
      .poll(() => page.evaluate(async () => (await caches.match("/")) !== undefined), { timeout: 30_000 })
      .toBe(true);
    await server.kill();
    const buffer = await sharp({ create: { width: 8, height: 8, channels: 3, background: "#456" } })
      .jpeg()
      .toBuffer();
    await page.getByLabel("Picture").setInputFiles({ name: "floor.jpg", mimeType: "image/jpeg", buffer });
    await page.getByRole("button", { name: "Keep the photo" }).click();
    await page.getByText("Written into the journal.").waitFor();
    await page.getByRole("button", { name: "Undo" }).waitFor();
    await page.goto(`${server.url}/#/site/boathouse/zone/rigging`);
    await page.getByRole("button", { name: "Abraded" }).click();
    await page.getByRole("button", { name: "Write it down" }).click();
    await page.getByText("2 entries wait for the server.").waitFor();
    await page.reload();
    await page.getByText("2 entries wait for the server.").waitFor({ timeout: 20_000 });
    expect(server.photos.size).toBe(0);

    await server.revive();
    await expect.poll(() => server.entries.length, { timeout: 60_000 }).toBe(2);
    expect(server.entries.map(({ did }) => did)).toEqual(["photographed", "abraded"]);
    expect([...server.photos.values()]).toEqual([1]);
    expect(server.entries[0]).toMatchObject({ photo: [...server.photos.keys()][0], of: "floor", zone: "rigging" });
    await expect.poll(() => page.evaluate(() => localStorage.getItem("nightslab.outbox"))).toBe("[]");
    await server.kill();
    await close();
  });
});
