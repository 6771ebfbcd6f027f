// Twin nights: the same until the fault begins, and then different in the stated way and in no other.
import { describe, expect, it } from "vitest";
import type { Series, PlainLog } from "#core/zone/site.ts";
import { casesOf, cleanNight, type InjectedCase } from "../../../firmware-sim/injected/cases.ts";
import { INJECTED_KINDS, type InjectedKind } from "../../../firmware-sim/injected/faults.ts";
import { playTwins } from "../../../firmware-sim/injected/twins.ts";
import { yearsIn } from "../../../firmware-sim/study/sample.ts";

const years = yearsIn("tests/reference/weather");
const M = 60_000;
const indices = [1, 3];

const played = indices.map((index) => {
  const night = cleanNight(years, 1, index);
  const cases = casesOf(night, { seed: 1, nights: 2, asks: 3, pairs: 1 });
  const twins = playTwins(
    night,
    cases.map(({ nodes }) => nodes),
  );
  return { night, cases, twins, clean: twins.logOf(night.scenario.nodes) };
});

type Row = readonly [key: string, value: number, heardMs: number];
const rowsOf = ({ node, quantity, atMs, values, heardMs }: Series): Row[] =>
  atMs.map((at, i) => [`${node}/${quantity}@${at}`, values[i] as number, heardMs[i] as number] as const);
const rows = (log: PlainLog, keep: (row: Row) => boolean) => log.series.flatMap((each) => rowsOf(each).filter(keep));
const seriesOf = (log: PlainLog, name: string) =>
  log.series.find(({ node, quantity }) => `${node}/${quantity}` === name);

/** Names of the series that a case changed. */
function changedIn(clean: PlainLog, faulty: PlainLog): string[] {
  return clean.series
    .map(({ node, quantity }) => `${node}/${quantity}`)
    .filter((name) => JSON.stringify(seriesOf(clean, name)) !== JSON.stringify(seriesOf(faulty, name)));
}

const single = (cases: readonly InjectedCase[], kind: InjectedKind) =>
  cases.find(({ injected }) => injected.length === 1 && injected[0]?.kind === kind) as InjectedCase;

describe.each(played)("a night and its twins ($night.scenario.title)", ({ night, cases, twins, clean }) => {
  it("agree in every reading heard before the fault begins", () => {
    for (const each of cases) {
      const before = ([, , heardMs]: Row) => heardMs < each.fromMs;
      const were = rows(clean, before);
      expect(were.length).toBeGreaterThan(1000);
      expect(JSON.stringify(rows(twins.logOf(each.nodes), before))).toBe(JSON.stringify(were));
    }
  });

  it("differ in the series that a fault is in, and in no others", () => {
    const floor = Object.keys(night.scenario.nodes[0]?.slabs ?? {}).map((quantity) => `n1/${quantity}`);
    const temperatures = [...floor, "n1/air"];
    const whole = [...temperatures, "n1/rh", "n1/battery"].sort();
    const may: Record<InjectedKind, (on: string) => readonly string[]> = {
      silent: () => whole,
      "no-network": () => whole,
      "wrong-clock": () => whole,
      fahrenheit: () => temperatures,
      loose: (on) => [on],
      "power-up-code": (on) => [on],
      frozen: (on) => [on],
      drifting: (on) => [on],
      saturated: () => ["n1/rh"],
      poisoned: () => ["n1/rh"],
      "sun-struck": () => ["n1/air", "n1/rh"],
      "weak-battery": () => ["n1/battery"],
    };
    for (const kind of INJECTED_KINDS) {
      const each = single(cases, kind);
      const fault = each.injected[0]?.fault;
      const on = fault !== undefined && "quantity" in fault ? `n1/${fault.quantity}` : "";
      expect([kind, ...changedIn(clean, twins.logOf(each.nodes)).sort()]).toEqual([kind, ...[...may[kind](on)].sort()]);
    }
  });

  it("say what the fault says while it is at work", () => {
    const during = (kind: InjectedKind, quantity: string) => {
      const each = single(cases, kind);
      const [was, is] = [clean, twins.logOf(each.nodes)].map((log) => seriesOf(log, `n1/${quantity}`) as Series) as [
        Series,
        Series,
      ];
      const within = (atMs: number) => atMs >= each.fromMs && atMs < each.toMs - M;
      const cleanAt = new Map(was.atMs.map((atMs, i) => [atMs, was.values[i] as number]));
      return is.atMs.flatMap((atMs, i) =>
        within(atMs)
          ? [{ value: is.values[i] as number, clean: cleanAt.get(atMs) as number, heardMs: is.heardMs[i] as number }]
          : [],
      );
    };
    expect(during("silent", "air")).toEqual([]);
    const { toMs } = single(cases, "no-network");
    for (const { value, clean: was, heardMs } of during("no-network", "air")) {
      expect(value).toBe(was);
      expect(heardMs).toBeGreaterThanOrEqual(toMs);
    }
    expect(new Set(during("saturated", "rh").map(({ value }) => value))).toEqual(new Set([100]));
    expect(during("poisoned", "rh").every(({ value, clean: was }) => value <= was)).toBe(true);
    for (const { value, clean: was } of during("sun-struck", "air")) expect(value - was).toBeCloseTo(3, 0);
    for (const { value, clean: was } of during("fahrenheit", "slab")) expect(value).toBeCloseTo(1.8 * was + 32, 0);
  });

  it("never hear a reading from a clock that runs ahead by more than the door lets in", () => {
    for (const each of cases) {
      const { series } = twins.logOf(each.nodes);
      const aheadMs = series.flatMap(({ atMs, heardMs }) => atMs.map((at, i) => at - (heardMs[i] as number)));
      expect(Math.max(...aheadMs)).toBeLessThanOrEqual(2 * M);
    }
  });
});
