// The dashboard's files: pages, what they load, how long it may be kept, and the page that stands in for them.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Door, openDoor } from "../support/http-door.ts";

describe("built", () => {
  const folder = mkdtempSync(join(tmpdir(), "dashboard-"));
  let door: Door;
  beforeAll(async () => {
    mkdirSync(join(folder, "site", "assets"), { recursive: true });
    writeFileSync(join(folder, "site", "index.html"), "<title>board</title>");
    writeFileSync(join(folder, "site", "assets", "main-4f2a.js"), "export {};");
    writeFileSync(join(folder, "site", ".secret"), "no");
    writeFileSync(join(folder, "outside.txt"), "no");
    door = await openDoor({ dashboardDir: join(folder, "site") });
  });
  afterAll(async () => {
    await door.app.close();
    rmSync(folder, { recursive: true });
  });

  it.each(["/", "/index.html", "/boathouse/zones/slip", "/boathouse?units=si"])(
    "%s is the page, asked for anew each time",
    async (url) => {
      const answer = await door.app.inject({ url });
      expect([answer.statusCode, answer.body]).toEqual([200, "<title>board</title>"]);
      expect(answer.headers["content-type"]).toContain("text/html");
      expect(answer.headers["cache-control"]).toBe("no-cache");
      expect(answer.headers["content-security-policy"]).toContain("default-src 'self'");
    },
  );
  it("files named by their content are kept", async () => {
    const answer = await door.app.inject({ url: "/assets/main-4f2a.js" });
    expect(answer.headers["content-type"]).toContain("javascript");
    expect(answer.headers["cache-control"]).toBe("public, max-age=31536000, immutable");
  });
  it.each(["/assets/gone-1.js", "/.secret", "/..%2foutside.txt", "/../outside.txt"])(
    "%s is not served",
    async (url) => {
      const answer = await door.app.inject({ url });
      expect([403, 404]).toContain(answer.statusCode);
      expect(answer.headers["content-type"]).toContain("application/problem+json");
    },
  );
  it("an unknown address of the API is no page", async () => {
    await door.refused(404, "GET", "/boathouse");
  });
  it("a page takes no changes", async () => {
    expect((await door.app.inject({ method: "POST", url: "/boathouse" })).statusCode).toBe(404);
  });
});

it.each([null, "/nonexistent"])("not built (%s): plain words say so, and the API is there", async (dashboardDir) => {
  const door = await openDoor({ dashboardDir });
  const answer = await door.app.inject({ url: "/boathouse" });
  expect(answer.statusCode).toBe(503);
  expect(answer.body).toContain("npm run build");
  expect((await door.ask("GET", "/sites")).statusCode).toBe(200);
  await door.app.close();
});
