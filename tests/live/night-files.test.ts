// Night files in and out of the running server, and what hindsight makes of a past that nobody watched.
import { readFileSync } from "node:fs";
import { afterEach, describe, expect, it } from "vitest";
import { type NightFileBody, readNightFile } from "#contract/night-file.ts";
import { msFromIso } from "#contract/primitives.ts";
import { judgeZone } from "../../server/core/judge/judge.ts";
import { spotCheck } from "../../server/core/judge/spot-check.ts";
import { fakeJudge } from "../support/fake-judge.ts";
import { type AppWishes, runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, pack, SITE } from "../support/small-site.ts";

const open: RunningApp[] = [];
const run = async (wishes: AppWishes = {}) => {
  const running = await runApp(wishes);
  open.push(running);
  return running;
};
afterEach(async () => {
  for (const running of open.splice(0)) await running.end();
});

const caseFile = (name: string) =>
  JSON.parse(readFileSync(new URL(`../cases/${name}.json`, import.meta.url), "utf8")) as NightFileBody;
const faultsOf = (answer: object) => {
  const { refusal, faults } = answer as { refusal?: string; faults?: { field: string }[] };
  return `${refusal ?? "taken"} ${(faults ?? []).map(({ field }) => field).join(" ")}`.trim();
};

/** Takes a file in at the moment of its last ask, and says what the board then shows for the zone of that ask. */
async function shownOf(file: NightFileBody) {
  const last = file.ask.at(-1);
  if (last === undefined) throw new Error("asks nothing");
  const running = await run({ empty: true, judge: { judgeZone, spotCheck }, atMs: msFromIso(last.at), shut: true });
  valueOf(await running.app.desk.addSite(file.site));
  const taken = valueOf(await running.app.desk.importNightFile(file.site.id, file));
  return { running, taken, page: valueOf(running.app.desk.zonePage(file.site.id, last.zone)), zone: last.zone };
}

describe("a night file that is taken in", () => {
  // Night files of the trade with the call that must come out: tests/cases/SOURCE.md.
  it.each(["01", "08", "23", "47"])("%s brings the call that replay gives", async (name) => {
    const file = caseFile(name);
    const { taken, page, zone } = await shownOf(file);
    const read = readNightFile(file);
    if (!read.ok) throw new Error("must be read");
    const readings = read.value.log.series.reduce((sum, { atMs }) => sum + atMs.length, 0);
    expect(taken).toEqual({ readings, entries: file.journal.length });
    const wanted = file.expect?.filter((one) => one.zone === zone).at(-1);
    expect(page.call.call).toBe(wanted?.call);
    if (wanted?.limiting !== undefined) expect(wanted.limiting).toContain(page.call.limiting);
  });

  it("goes out as it came in", async () => {
    const file = caseFile("01");
    const { running, zone } = await shownOf(file);
    const out = valueOf(running.app.desk.nightFile(file.site.id, zone)) as NightFileBody;
    const [before, after] = [readNightFile(file), readNightFile(JSON.parse(JSON.stringify(out)))];
    if (!before.ok || !after.ok) throw new Error("both must be read");
    const series = (read: typeof before) =>
      read.ok
        ? [...read.value.log.series].sort((a, b) => `${a.node}/${a.quantity}`.localeCompare(`${b.node}/${b.quantity}`))
        : [];
    expect(series(after)).toEqual(series(before));
    expect(after.value.log.zones).toEqual(before.value.log.zones.filter(({ id }) => id === zone));
    const plain = ({ id: _, ...entry }: { id: string }) => entry;
    expect(after.value.log.journal.map(plain)).toEqual(before.value.log.journal.map(plain));
    expect(out.expect?.at(-1)).toMatchObject({
      zone,
      call: valueOf(running.app.desk.zonePage(file.site.id, zone)).call.call,
    });
  });

  it("is one thing, however often it comes", async () => {
    const file = caseFile("01");
    const { running } = await shownOf(file);
    expect(valueOf(await running.app.desk.importNightFile(file.site.id, file))).toEqual({ readings: 0, entries: 0 });
  });

  it("is refused whole when it contradicts what is here, lies ahead, or is none", async () => {
    const file = caseFile("01");
    const { running } = await shownOf(file);
    const take = async (changed: object) =>
      faultsOf(await running.app.desk.importNightFile(file.site.id, { ...file, ...changed }));
    const [sheet] = file.sheets;
    const [zone] = file.zones;
    expect(await take({ sheets: [{ ...sheet, name: "Another" }, ...file.sheets.slice(1)] })).toBe("conflict /sheets/0");
    expect(await take({ zones: [{ ...zone, areaM2: 1 }, ...file.zones.slice(1)] })).toBe("conflict /zones/0");
    expect(await take({ journal: [{ id: "new", did: "washed", zone: zone?.id, at: "2099-01-01T00:00:00Z" }] })).toBe(
      "invalid /journal/0/at",
    );
    expect(await take({ nightFile: 2 })).toBe("invalid /nightFile");
    expect(
      await take({ readings: [{ n: "nobody/slab", u: "Cel", v: 1, t: msFromIso(file.ask[0]?.at ?? "") / 1000 - 60 }] }),
    ).toBe("invalid /readings");
    expect(faultsOf(await running.app.desk.importNightFile("elsewhere", file))).toBe("missing /site");
  });

  it("does not change what was shown: a judged zone hears of it now", async () => {
    const running = await run();
    const t = Math.round(running.nowMs());
    await running.send(pack(t - 60_000));
    await until(() => valueOf(running.app.desk.board(SITE.id)).zones[0]?.call.call === "pour");
    const out = valueOf(running.app.desk.nightFile(SITE.id, "bay")) as NightFileBody;
    const more = { ...out, readings: [...pack(t - 40 * 60_000), ...pack(t - 50 * 60_000)] };
    expect(valueOf(await running.app.desk.importNightFile(SITE.id, more))).toEqual({ readings: 6, entries: 0 });
    const again = readNightFile(JSON.parse(JSON.stringify(valueOf(running.app.desk.nightFile(SITE.id, "bay")))));
    if (!again.ok) throw new Error("must be read");
    const slab = again.value.log.series.find(({ node, quantity }) => node === NODE.id && quantity === "slab");
    expect(slab?.atMs).toEqual([t - 50 * 60_000, t - 40 * 60_000, t - 60_000]);
    expect(slab?.heardMs[0]).toBeGreaterThanOrEqual(t);
  });
});

describe("hindsight", () => {
  it("says what the log knows now of hours in which nothing was shown, and says so", async () => {
    const judge = fakeJudge();
    const running = await run({ judge });
    const t = Math.round(running.nowMs());
    // The node was on for nine hours, and cold for the last three; nobody watched.
    for (let minute = 9 * 60; minute >= 0; minute -= 15) {
      await running.send(pack(t - minute * 60_000, { slab: minute < 180 ? 8 : 12 }));
    }
    const strip = () => valueOf(running.app.desk.board(SITE.id)).zones[0]?.past ?? [];
    await until(() => strip().filter(({ hindsight }) => hindsight).length >= 3, 30_000);
    await until(() => running.app.desk.health().counters["queueHindsight"] === 0, 30_000);
    const said = strip().map(({ call, limiting, hindsight }) => `${call} ${limiting} ${hindsight}`);
    expect(said.slice(0, 3)).toEqual(["wait data-stale true", "pour null true", "wait slab-cold true"]);
    expect(said.slice(3).every((piece) => piece.endsWith("false"))).toBe(true);
    const [, poured] = strip();
    expect(Math.abs(msFromIso(poured?.from ?? "") - (t - 9 * 3_600_000))).toBeLessThanOrEqual(15 * 60_000);
    const back = judge.judged.filter(({ nowMs, heardByMs }) => heardByMs - nowMs > 60_000);
    expect(back.length).toBeGreaterThanOrEqual(48);
  });
});
