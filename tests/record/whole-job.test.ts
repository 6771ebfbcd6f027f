// A whole job: lived through, exported as one file, checked offline, and every call made again from its night files.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Compile } from "typebox/compile";
import type { CallBody } from "#contract/call.ts";
import type { HandOverBody } from "#contract/hand-over.ts";
import {
  type CoatRecordBody,
  CoatRecordSchema,
  DaySummarySchema,
  type RecordIndexBody,
  RecordIndexSchema,
} from "#contract/record.ts";
import { RULE_VERSION } from "#core/judge/judge.ts";
import { buildHttp } from "../../server/http/server.ts";
import { replayFile } from "../../server/replay.ts";
import { openStore } from "../../server/store/store.ts";
import { verify } from "../../server/verify.ts";
import { type RunningApp, runApp, valueOf } from "../support/running-app.ts";
import { liveWholeJob, type WholeJob } from "../support/whole-job.ts";

const HOUR = 3_600_000;

describe("a whole job", () => {
  let folder: string;
  let job: WholeJob;
  let running: RunningApp;
  let files: Record<string, Uint8Array>;
  let zipPath: string;
  const text = (path: string) => new TextDecoder().decode(files[path]);
  const json = <T>(path: string) => JSON.parse(text(path)) as T;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "nightslab-job-"));
    job = liveWholeJob(join(folder, "data"));
    const store = openStore(join(folder, "data"));
    await store.heads.closeDays(job.toMs, () => false);
    for (const [about, who] of [
      ["first", "Inga Sund"],
      ["second", "Teo Marsh"],
    ] as const) {
      const line = {
        atMs: job.toMs,
        who,
        role: "lead" as const,
        did: "PATCH /sites/:site",
        about,
        address: "10.9.8.7",
      };
      store.people.note({ ...line, site: job.site });
      store.people.note({ ...line, site: "elsewhere" });
    }
    store.close();
    running = await runApp({ data: join(folder, "data"), empty: true, shut: true, atMs: job.toMs + 60_000 });
    const chunks: Uint8Array[] = [];
    for await (const chunk of valueOf(running.app.desk.exportJob(job.site, {}))) chunks.push(chunk);
    const bytes = Buffer.concat(chunks);
    zipPath = join(folder, "job.zip");
    await writeFile(zipPath, bytes);
    files = unzipSync(bytes);
  }, 180_000);
  afterAll(async () => {
    await running?.end();
    await rm(folder, { recursive: true, force: true });
  });

  it("tells who changed what at this site, oldest first, and not from which address", () => {
    const lines = text("audit.ndjson").trim().split("\n");
    expect(lines.map((line) => (JSON.parse(line) as { about: string; who: string }).about)).toEqual([
      "first",
      "second",
    ]);
    expect(lines.join("")).not.toContain("10.9.8.7");
  });

  it("is one file with everything in it", () => {
    expect(Object.keys(files).sort()).toEqual(
      expect.arrayContaining([
        "README.txt",
        "chain/calls.ndjson",
        "chain/heads.json",
        "chain/journal.ndjson",
        "job.json",
        `hand-over/${job.zone}.json`,
        `nights/${job.zone}-1.night.json`,
        `records/${job.zone}/coat-1-calls.csv`,
        `records/${job.zone}/coat-1-conditions.csv`,
        `records/${job.zone}/coat-1.json`,
        `records/${job.zone}/coat-2.json`,
        "setup.json",
      ]),
    );
    const index = json<RecordIndexBody>("job.json");
    expect(Compile(RecordIndexSchema).Check(index)).toBe(true);
    expect(index.zones[0]?.coats.map(({ record, overrides }) => [record, overrides])).toEqual([
      [true, 0],
      [true, 1],
    ]);
    const days = Object.keys(files).filter((path) => /^days\/.*json$/.test(path));
    expect(days.length).toBeGreaterThanOrEqual(3);
    for (const path of days) expect(Compile(DaySummarySchema).Check(json(path)), path).toBe(true);
  });

  it("is sound when it is checked offline", () => {
    const said: string[] = [];
    expect(
      verify([zipPath], (line) => said.push(line)),
      said.join("\n"),
    ).toBe(0);
    expect(said.join("\n")).toContain(`${job.shown.length} calls`);
  });

  it("comes over HTTP as it is made, and so do record, tables and days", async () => {
    const http = await buildHttp({
      desk: running.app.desk,
      stream: { open: () => "missing", upTo: () => "test-0", close: () => undefined },
      logger: false,
      dashboardDir: null,
      startId: "t",
    });
    const ask = (path: string) =>
      http.inject({ url: `/api/v1/sites/${job.site}${path}`, headers: { host: "127.0.0.1" } });
    const zip = await ask("/export.zip");
    expect([zip.statusCode, zip.headers["content-type"]]).toEqual([200, "application/zip"]);
    expect(Object.keys(unzipSync(zip.rawPayload)).sort()).toEqual(Object.keys(files).sort());
    const coat = `/zones/${job.zone}/coats/1/record`;
    expect((await ask(coat)).json()).toMatchObject({ coat: 1, zone: { id: job.zone } });
    const table = await ask(`${coat}.csv?part=calls`);
    expect(table.headers["content-disposition"]).toContain(`${job.zone}-coat-2-calls.csv`);
    expect(table.body.startsWith("at,until,call,limiting,")).toBe(true);
    expect((await ask(`${coat}.csv`)).body.split("\r\n")[0]).toBe(
      "at,slab_cold_c,slab_hot_c,air_c,rh_pct,dew_point_c,margin_k",
    );
    expect((await ask(`/zones/${job.zone}/hand-over`)).statusCode).toBe(200);
    const index = (await ask("/coats")).json<RecordIndexBody>();
    expect((await ask(`/days/${index.days[0]}/summary`)).json()).toMatchObject({ day: index.days[0] });
    const missing = ["/zones/nowhere/coats", `/zones/${job.zone}/coats/7/record`, "/days/2093-01-01/summary"];
    for (const path of missing) expect((await ask(path)).statusCode, path).toBe(404);
    await http.close();
  }, 60_000);

  it("gives every call again, word for word, from its night files", async () => {
    const calls = text("chain/calls.ndjson")
      .trim()
      .split("\n")
      .map((line) => (JSON.parse(line) as { body: CallBody }).body);
    expect(calls).toEqual(JSON.parse(JSON.stringify(job.shown)));
    expect(calls.length).toBeGreaterThan(12);
    expect(new Set(calls.map(({ ruleVersion }) => ruleVersion))).toEqual(new Set([RULE_VERSION]));
    const replayed: CallBody[] = [];
    for (const path of Object.keys(files).filter((name) => name.startsWith("nights/"))) {
      const file = join(folder, "night.json");
      await writeFile(file, files[path] as Uint8Array);
      replayed.push(...replayFile(file).map((line) => JSON.parse(line) as CallBody));
    }
    expect(replayed).toEqual(calls);
  }, 120_000);

  it("tells the second coat: film beneath, override, late packets and the gap, never filled in", () => {
    const record = json<CoatRecordBody>(`records/${job.zone}/coat-2.json`);
    const errors = [...Compile(CoatRecordSchema).Errors(record)];
    expect(errors.slice(0, 3)).toEqual([]);
    expect(record.pour).toMatchObject({ batches: [{ part: "A", number: "K7-114" }], people: ["I. Marrow"] });
    expect(record.overrides).toMatchObject([{ call: "pour", by: "I. Marrow", why: "tarps are up, the crew stays" }]);
    expect(record.before).toMatchObject({ coat: 0, untilNextCoat: true });
    expect(record.before?.recoat.share).toBeGreaterThan(0);
    expect(record.after).toMatchObject({ coat: 1, untilNextCoat: false });
    const near = (iso: string, atMs: number) => Math.abs(Date.parse(iso) - atMs) <= 11 * 60_000;
    expect(record.gaps.filter(({ from, to }) => near(from, job.gap.fromMs) && near(to, job.gap.toMs))).toMatchObject([
      { reason: "nothing" },
    ]);
    const within = record.conditions.atMs.filter((atMs) => atMs > job.gap.fromMs && atMs < job.gap.toMs - 60_000);
    for (const atMs of within) {
      const at = record.conditions.atMs.indexOf(atMs);
      expect([record.conditions.slabColdC[at], record.conditions.marginK[at]]).toEqual([null, null]);
    }
    expect(within.length).toBe(1);
    const taken = record.journal.find(({ entry }) => entry.id === "x-1");
    expect(taken).toMatchObject({ undoneBy: "x-2", hash: expect.stringMatching(/^[0-9a-f]{64}$/) });
    expect(record.surfaceWork.some(({ id }) => id === "x-1")).toBe(false);
    expect(record.fieldRules.find(({ rule }) => rule === "batches-recorded")?.outcome).toBe("met");
    expect(record.fieldRules.find(({ rule }) => rule === "conditions-logged")?.outcome).toBe("not-met");
    expect(record.calls.length).toBeGreaterThan(5);
    const [first] = record.calls;
    expect(Date.parse(first?.at ?? "")).toBeGreaterThanOrEqual(job.fromMs);
  });

  it("holds every limit against what was read", () => {
    const record = json<CoatRecordBody>(`records/${job.zone}/coat-1.json`);
    const { conditions, pour } = record;
    const held = record.limits.find(({ limit, span }) => limit === "dew-margin" && span === "pour");
    const during = conditions.marginK.filter((_, index) => {
      const atMs = conditions.atMs[index] as number;
      return atMs >= Date.parse(pour.from) && atMs <= Date.parse(pour.to);
    });
    expect(held?.worst).toBeCloseTo(Math.min(...(during as number[])), 1);
    expect(held?.outcome).toBe((held?.worst ?? 0) >= (held?.limitValue ?? 0) ? "met" : "not-met");
    expect(new Set(record.limits.map(({ limit }) => limit)).size).toBeGreaterThanOrEqual(5);
  });

  it("hands over what the sheet prints, and nothing else", () => {
    const page = json<HandOverBody>(`hand-over/${job.zone}.json`);
    const of = (use: string) => page.uses.find((one) => one.use === use);
    expect(page.film).toMatchObject({ coat: 1, last: true });
    expect(of("washing")).toMatchObject({ state: "ask-the-sheet", notBefore: null });
    expect(of("heavy-traffic")).toMatchObject({ state: "ask-the-sheet", notBefore: null });
    const walk = of("walk-on");
    if (walk?.state === "ahead") expect(Date.parse(walk.notBefore ?? "")).toBeGreaterThan(job.toMs);
    else expect(Date.parse(walk?.reachedAt ?? "")).toBeLessThanOrEqual(job.toMs + HOUR);
  });
});
