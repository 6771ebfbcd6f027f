// Files as feeds, secrets that recipes name, and how long is waited.
import { mkdir, mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { FeedRecipe } from "#contract/feed.ts";
import { readFile } from "../../server/feed/file-source.ts";
import { SOURCE_LIMITS } from "../../server/feed/http-source.ts";
import { fillSecrets } from "../../server/feed/secrets.ts";
import { evenOf, waitMs } from "../../server/feed/timing.ts";
import { LISTS_RECIPE } from "../support/feed-sample.ts";

let folder: string;
let feeds: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightslab-feed-"));
  feeds = join(folder, "feeds");
  await mkdir(join(feeds, "in"), { recursive: true });
  await writeFile(join(folder, "outside.json"), "[1]");
  await writeFile(join(feeds, "in", "a.json"), "[2]");
  await writeFile(join(feeds, "..odd.json"), "[3]");
  await writeFile(join(feeds, "large.json"), "x".repeat(SOURCE_LIMITS.maxBytes + 1));
  await symlink(join(folder, "outside.json"), join(feeds, "link.json"));
  await symlink(join(feeds, "in", "a.json"), join(feeds, "inside-link.json"));
  await writeFile(join(folder, "secrets"), "# keys\nMY_KEY = from file \nnot a line\nEMPTY=\nACCENT=é\n");
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const read = async (file: string, dir: string | null = feeds) => {
  const answer = await readFile(dir, file, SOURCE_LIMITS);
  return answer.kind === "text" ? answer.text : answer.kind === "failed" ? answer.faults : answer.kind;
};

describe("a file", () => {
  it.each([
    ["in/a.json", "[2]"],
    ["in/../in/a.json", "[2]"],
    ["..odd.json", "[3]"],
    ["inside-link.json", "[2]"],
  ])("%s is read", async (file, text) => expect(await read(file)).toBe(text));
  it.each([
    ["../outside.json", "is outside of the folder feedDir"],
    ["/etc/hostname", "is outside of the folder feedDir"],
    [".", "is outside of the folder feedDir"],
    ["in/\0a.json", "is outside of the folder feedDir"],
    ["link.json", "leads out of the folder feedDir"],
    ["in", "is not a file"],
    ["none.json", "is not there"],
    ["large.json", "is larger than 2 MiB"],
  ])("%j is refused", async (file, reason) => expect(await read(file)).toEqual([{ field: "/source/file", reason }]));
  it("is refused without a folder for it", async () => {
    expect(await read("a.json", null)).toEqual([
      { field: "/source/file", reason: "cannot be read: the setting feedDir names no folder" },
    ]);
  });
});

describe("secrets", () => {
  const recipe = (secret: string, url = "https://weather.example/?key={MY_KEY}"): FeedRecipe => ({
    ...LISTS_RECIPE,
    source: { url },
    headers: [{ name: "X-Key", secret }],
  });
  const environment = { FEED_SECRET_OTHER: "from env", MY_HOME: "private", NIGHTSLAB_JOIN_SECRET: "private" };
  it("are filled in from the file, else from the environment", () => {
    const file = join(folder, "secrets");
    expect(fillSecrets(recipe("OTHER"), { file, environment })).toEqual({
      ok: true,
      value: { url: "https://weather.example/?key=from%20file", headers: { "x-key": "from env" } },
    });
  });
  it("are never read from another variable of the machine", () => {
    for (const name of ["MY_HOME", "NIGHTSLAB_JOIN_SECRET"])
      expect(fillSecrets(recipe(name, "https://weather.example/"), { file: null, environment })).toEqual({
        ok: false,
        faults: [{ field: "/headers/0/secret", reason: `the secret ${name} is not known to the server` }],
      });
  });
  it("are named and not told when they cannot be sent", () => {
    const file = join(folder, "secrets");
    const faultsOf = (name: string) => {
      const filled = fillSecrets(recipe(name), { file, environment });
      return filled.ok ? [] : filled.faults;
    };
    expect(faultsOf("ACCENT")).toEqual([
      { field: "/headers/0/secret", reason: "the secret ACCENT has characters that cannot be sent" },
    ]);
    expect(faultsOf("EMPTY")).toHaveLength(1);
    expect(fillSecrets(recipe("OTHER"), { file: join(folder, "none"), environment })).toEqual({
      ok: false,
      faults: [{ field: "/headers", reason: "the file of secrets cannot be read (ENOENT)" }],
    });
  });
});

describe("waiting", () => {
  const MINUTE = 60_000;
  it("keeps the interval, a little later each time, and differs from site to site", () => {
    const waits = ["dock", "barn", "hall"].map((site) => waitMs(site, 60, 1, 0, null));
    for (const wait of waits) {
      expect(wait).toBeGreaterThanOrEqual(60 * MINUTE);
      expect(wait).toBeLessThan(66 * MINUTE);
    }
    expect(new Set(waits).size).toBe(3);
    expect(waitMs("dock", 60, 1, 0, null)).toBe(waits[0]);
  });
  it("doubles with every failure, to six hours", () => {
    const waits = Array.from({ length: 12 }, (_, index) => waitMs("dock", 60, 7, index + 1, null));
    const later = waits[0] as number;
    expect(later).toBeGreaterThanOrEqual(5 * MINUTE);
    expect(waits[3]).toBeCloseTo(8 * later, 3);
    expect(waits[11]).toBeLessThan(6.6 * 60 * MINUTE);
    expect(waits[11]).toBeGreaterThanOrEqual(6 * 60 * MINUTE);
  });
  it("honours a longer wish of the service, for a day at most", () => {
    expect(waitMs("dock", 60, 1, 1, 9 * 60 * MINUTE)).toBe(9 * 60 * MINUTE);
    expect(waitMs("dock", 60, 1, 1, 1000)).toBeGreaterThanOrEqual(5 * MINUTE);
    expect(waitMs("dock", 60, 1, 1, 1e12)).toBe(24 * 60 * MINUTE);
  });
  it("draws evenly", () => {
    const draws = Array.from({ length: 2000 }, (_, index) => evenOf(`site ${index}`)).sort((a, b) => a - b);
    const worst = Math.max(...draws.map((draw, index) => Math.abs(draw - index / draws.length)));
    // Kolmogorov-Smirnov at 1 %: 1.63 / sqrt(2000) = 0.036.
    expect(worst).toBeLessThan(0.036);
  });
});
