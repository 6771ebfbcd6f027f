// The window of a zone: credit of abrading, and what it never does.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { entry, ground, HOUR_MS, nightLog, poured, slowEpoxy } from "../../support/night-log.ts";

/** At 21.11 °C: recoat after 9 h, until 24 h from the start of the pour. */
const START = Date.UTC(2026, 1, 3, 12);
const hour = (hours: number) => START + hours * HOUR_MS;

function at(nowH: number, work: readonly [string, number][], patch: Partial<Parameters<typeof nightLog>[0]> = {}) {
  const entries = work.map(([did, workH]) => entry(did as "abraded", hour(workH)));
  const journal = [...ground(START), poured(0, START), ...entries];
  const log = nightLog({
    nowMs: hour(nowH),
    journal,
    says: { slab: 21.11, air: 22, rh: 40 },
    hours: 24 + nowH,
    ...patch,
  });
  return judgeZone(log, "a", hour(nowH)).call;
}

describe("abrading and cleaning", () => {
  it("reopen a closed window for 24 h from the abrading", () => {
    expect(at(30, [])).toMatchObject({ call: "abrade", limiting: "window-closed" });
    const open = at(30, [
      ["abraded", 28],
      ["cleaned", 29],
    ]);
    expect(open).toMatchObject({ call: "pour", limiting: null });
    expect(open.window).toMatchObject({ state: "open", closesAtMs: hour(52) });
    expect(
      at(52.5, [
        ["abraded", 28],
        ["cleaned", 29],
      ]),
    ).toMatchObject({ call: "abrade", limiting: "abrasion-stale" });
  });

  it("finish-late uses the end of the credit", () => {
    const late = at(51.5, [
      ["abraded", 28],
      ["cleaned", 29],
    ]);
    expect(late).toMatchObject({ call: "wait", limiting: "finish-late" });
    expect(late.rules.find((rule) => rule.rule === "finish-late")).toMatchObject({
      measured: 1,
      limit: 0.5,
      unit: "h",
    });
  });

  it("never shorten an open window", () => {
    const early = [
      ["abraded", 11],
      ["cleaned", 12],
    ] as [string, number][];
    const open = { sheets: [{ ...slowEpoxy, cure: slowEpoxy.cure.map((row) => ({ ...row, recoatUntilH: 48 })) }] };
    expect(at(13, [], open).window.closesAtMs).toBe(hour(48));
    expect(at(13, early, open).window.closesAtMs).toBe(hour(48));
    expect(at(40, early, open).call).toBe("pour");
    expect(at(13, early).window.closesAtMs).toBe(hour(35));
  });

  it("of a soft film give no credit", () => {
    const soft = at(30, [
      ["abraded", 8],
      ["cleaned", 9],
    ]);
    expect(soft).toMatchObject({ call: "abrade", limiting: "window-closed", steps: ["abrade", "clean"] });
  });

  it("of a soft film do not count against blush either", () => {
    const dewy = (atMs: number) => (atMs >= hour(2) && atMs <= hour(3) ? 100 : 40);
    const says = { slab: 21.11, air: 22, rh: dewy };
    const work = (firstH: number) =>
      [
        ["washed", firstH],
        ["abraded", firstH + 0.5],
        ["cleaned", firstH + 1],
      ] as [string, number][];
    const series = nightLog({ nowMs: hour(16), says, hours: 40 }).series;
    const judged = (firstH: number) => at(16, work(firstH), { series });
    expect(judged(5)).toMatchObject({ call: "abrade", limiting: "blush", steps: ["abrade", "clean"] });
    expect(judged(12).rules.find((rule) => rule.rule === "blush")?.outcome).toBe("pass");
  });
});

describe("the state of the window", () => {
  it("is lost where it closes before it opens", () => {
    const cure = slowEpoxy.cure.map((row) => ({
      ...row,
      recoatFromH: row.slabC > 20 ? row.recoatFromH : 30,
      recoatUntilH: 30,
    }));
    const cold = at(34, [], {
      sheets: [{ ...slowEpoxy, cure }],
      series: nightLog({ nowMs: hour(34), says: { slab: 12 }, hours: 60 }).series,
    });
    expect(cold.window.state).toBe("lost");
    expect(cold).toMatchObject({ call: "abrade", limiting: "window-closed" });
  });

  it("is not yet, open and closed in turn", () => {
    expect(at(5, []).window.state).toBe("not-yet");
    expect(at(12, []).window).toMatchObject({ state: "open", closesAtMs: hour(24) });
    expect(at(25, []).window).toMatchObject({ state: "closed", closesAtMs: hour(24) });
  });
});
