// Counting on outcomes made by hand, and a tiny run from end to end.
import { readFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { readNightFile } from "#contract/night-file.ts";
import type { CaseOutcome, NightOutcome, TwinMoment } from "../../../firmware-sim/injected/outcome.ts";
import { runInjected } from "../../../firmware-sim/injected/run.ts";
import {
  alarmFigures,
  alone,
  callFigures,
  directionOf,
  inPairs,
  toldFigures,
} from "../../../firmware-sim/injected/summary.ts";
import { injectedTable } from "../../../firmware-sim/injected/table.ts";
import { writeTurned } from "../../../firmware-sim/injected/turned-nights.ts";

const moment = (clean: string, faulty: string, rest: Partial<TwinMoment> = {}): TwinMoment => ({
  askMs: Date.UTC(2026, 1, 3, 14),
  atWork: true,
  another: true,
  unwatched: false,
  clean,
  cleanLimiting: clean === "pour" ? null : "night-dew",
  faulty,
  faultyLimiting: faulty === "pour" ? null : "data-fault",
  comfortable: false,
  fit: false,
  hard: [],
  soft: false,
  marginK: 0,
  slabColdK: 0,
  ...rest,
});
const made = (label: string, moments: readonly TwinMoment[], told: CaseOutcome["told"] = null): CaseOutcome => ({
  night: 4,
  title: "a night",
  index: 2,
  labels: label.split(" + "),
  kinds: label.split(" + "),
  on: ["n1"],
  fromMs: Date.UTC(2026, 1, 3, 12),
  toMs: Date.UTC(2026, 1, 3, 20),
  told,
  moments,
});

describe("calls", () => {
  const cases = [
    made("loose", [
      moment("wait", "pour", { soft: true, marginK: 1.25 }),
      moment("abrade", "pour", { hard: ["condensing 30 min"] }),
      moment("abrade", "wait"),
      moment("pour", "pour", { comfortable: true }),
      moment("pour", "wait", { comfortable: true }),
      moment("pour", "wait", { comfortable: false }),
      moment("wait", "wait", { comfortable: true }),
      moment("pour", "pour", { soft: true }),
    ]),
  ];
  it("count as turned only from something else into pour, and as lost only where pour was called and comfortable", () => {
    const figures = callFigures(cases);
    const told = [made("loose", [moment("wait", "pour")], { afterH: 2, by: "doubt" }), ...cases];
    expect(callFigures(told)).toMatchObject({ turned: 3, turnedTold: 1, turnedHard: 1, turnedSoft: 1 });
    expect(figures).toMatchObject({ moments: 8, turned: 2, comfortable: 2, lost: 1, pours: 4 });
    expect(figures).toMatchObject({ hard: 1, hardBoth: 0, soft: 2, softBoth: 1 });
    expect(figures.lostTo).toEqual([["data-fault", 1]]);
  });
  it("lost where nothing else could judge, or could not for a while, are counted apart", () => {
    const blind = { comfortable: true, another: false, unwatched: true };
    const gap = { comfortable: true, unwatched: true };
    const of = [
      made("silent", [
        moment("pour", "wait", blind),
        moment("pour", "pour", blind),
        moment("pour", "wait", gap),
        moment("pour", "pour", gap),
        moment("pour", "pour", gap),
        ...(cases[0]?.moments ?? []),
      ]),
    ];
    expect(callFigures(of)).toMatchObject({ comfortable: 7, lost: 3, comfortableBlind: 2, lostBlind: 1 });
    expect(callFigures(of)).toMatchObject({
      comfortableUnwatched: 3,
      lostUnwatched: 1,
      comfortableSeen: 2,
      lostSeen: 1,
    });
    const table = injectedTable("by hand", [{ night: 4, seed: 9, probes: 3, alarms: [], looks: 16, cases: of }]);
    expect(table).toContain("comfortable lost     3 of 7, 42.9 %");
    expect(table).toContain("nothing else could judge it   1 of 2");
    expect(table).toContain("it had gone unwatched         1 of 3");
    expect(table).toContain("others could all the time     1 of 2, 50.0 %   goal <= 10 %");
  });
  it("that were turned are printed so that they can be found again", () => {
    const table = injectedTable("by hand", [{ night: 4, seed: 9, probes: 3, alarms: [], looks: 16, cases }]);
    expect(table).toContain("turned into pour     2   goal 0");
    expect(table).toContain("and truly failed   1   goal 0; crossed a limit by a little 1");
    expect(table).toContain("by a fault that was told 0, by one that nothing told 2");
    expect(table).toMatch(
      /night 4 case 2 \(a night\) loose on n1 2026-02-03T12:00Z to 2026-02-03T20:00Z, ask 2026-02-03T14:00Z: wait \(night-dew\) became pour, margin \+1\.25 K; not told; truly soft false/,
    );
    expect(table).toContain("truly condensing 30 min");
    expect(table).not.toMatch(/NaN|undefined/);
  });
});

describe("faults told", () => {
  it("are counted by how, with the middle time, and the untold by what they did", () => {
    const cases = [
      made("frozen slab", [], { afterH: 2, by: "doubt" }),
      made("frozen slab", [], { afterH: 8, by: "voice" }),
      made("frozen slab", [], { afterH: 4, by: "stop" }),
      made("frozen slab", [moment("wait", "wait", { marginK: 0.2, slabColdK: -0.2 })]),
      made("frozen slab", [moment("wait", "wait", { marginK: -2 })]),
      made("frozen slab", [moment("wait", "wait", { marginK: -2 }), moment("wait", "wait", { marginK: 0.9 })]),
      made("frozen slab", [moment("wait", "wait", { marginK: 5, atWork: false })]),
    ];
    expect(toldFigures(cases)).toEqual({
      cases: 7,
      told: 3,
      byDoubt: 1,
      medianH: 4,
      nothing: 2,
      stricter: 1,
      hopeful: 1,
      mostHopefulK: 0.9,
    });
    expect(directionOf(made("x", [moment("wait", "wait", { marginK: null, slabColdK: 0.5 })]))).toBe("hopeful");
  });
});

describe("alarms without a fault", () => {
  it("are counted by kind against all probes of all nights", () => {
    const night = (probes: number, kinds: readonly string[]): NightOutcome => ({
      night: 0,
      seed: 1,
      probes,
      alarms: kinds.map((kind, i) => ({ probe: `n1/slab.${i}`, kind })),
      looks: 16,
      cases: [],
    });
    const nights = [night(3, ["conflict", "conflict"]), night(5, ["detached"]), night(4, [])];
    expect(alarmFigures(nights)).toEqual({
      probeNights: 12,
      byKind: [
        ["conflict", 2],
        ["detached", 1],
      ],
    });
    expect(injectedTable("by hand", nights)).toContain("conflict          2, 1 in 6");
  });
});

describe("two nights with their faults", async () => {
  const plan = { weather: "tests/reference/weather", seed: 1, nights: 2, asks: 1, pairs: 1, only: null };
  const here = await runInjected({ ...plan, workers: 0 }, () => undefined);

  it("come out the same from another process, and one night alone as among others", async () => {
    const there = await runInjected({ ...plan, workers: 1, only: 1 }, () => undefined);
    expect(there).toEqual(JSON.parse(JSON.stringify(here.slice(1))));
  }, 120_000);

  it("have every kind alone and a pair each, and are told whole", () => {
    expect(alone(here)).toHaveLength(2 * 12);
    expect(inPairs(here)).toHaveLength(2);
    const figures = callFigures(alone(here));
    expect(figures.moments).toBe(2 * 12);
    expect(figures.lost).toBeLessThanOrEqual(figures.comfortable);
    const table = injectedTable("two nights", here);
    expect(table).toContain("2 nights, 26 faults injected, 2 different pairs");
    expect(table).not.toMatch(/NaN|undefined/);
  });

  it("of which a turned one is written as two night files that give the calls of both twins again", async () => {
    const folder = await mkdtemp(join(tmpdir(), "turned-"));
    try {
      // No call need be turned in two nights: one of them is told as if it were, to see its files.
      const [first] = here;
      const one = first?.cases.find(({ kinds }) => kinds[0] === "drifting") as CaseOutcome;
      const asTurned = { ...one, moments: one.moments.map((each) => ({ ...each, clean: "wait", faulty: "pour" })) };
      const paths = writeTurned(
        folder,
        { ...plan, workers: 0 },
        [{ ...(first as NightOutcome), cases: [asTurned] }],
        5,
      );
      expect(paths).toHaveLength(2);
      for (const [path, told] of [
        [paths[0], one.moments.map(({ faulty }) => faulty)],
        [paths[1], one.moments.map(({ clean }) => clean)],
      ] as const) {
        const file = readNightFile(JSON.parse(readFileSync(path as string, "utf8")));
        if (!file.ok) throw new Error(JSON.stringify(file.faults));
        const { log, ask } = file.value;
        expect(ask.map(({ atMs, zone }) => judgeZone(log, zone, atMs).call.call)).toEqual(told);
      }
    } finally {
      await rm(folder, { recursive: true });
    }
  }, 60_000);
});
