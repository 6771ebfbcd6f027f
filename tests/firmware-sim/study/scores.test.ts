// Scores of the study against worked examples. Source: tests/reference/forecast (Murphy 1973; Gneiting and Raftery 2007).
import { describe, expect, it } from "vitest";
import {
  brier,
  brierParts,
  brierSkill,
  coverage,
  intervalScore,
  mean,
  pinball,
  quantileOf,
  reliabilityTable,
  skill,
} from "../../../firmware-sim/study/scores.ts";
import { referenceRows } from "../../support/csv.ts";

type Inputs = Record<string, number & number[]>;

const SCORES: Record<string, (given: Inputs) => number> = {
  brier: ({ p, o }) => brier(p as number[], o as number[]),
  brier_skill_climatology: ({ p, o }) => brierSkill(p as number[], o as number[]),
  brier_reliability: ({ p, o }) => brierParts(p as number[], o as number[]).reliability,
  brier_resolution: ({ p, o }) => brierParts(p as number[], o as number[]).resolution,
  brier_uncertainty: ({ p, o }) => brierParts(p as number[], o as number[]).uncertainty,
  pinball: ({ q, tau, y }) => pinball(q as number, tau as number, y as number),
  interval_score: ({ l, u, alpha, y }) => intervalScore(l as number, u as number, alpha as number, y as number),
  coverage: ({ l, u, y }) => coverage(l as number[], u as number[], y as number[]).share,
  coverage_standard_error: ({ p, n }) => {
    const held = Math.round((p as number) * (n as number));
    const y = Array.from({ length: n as number }, (_, i) => (i < held ? 0 : 2));
    return coverage(
      y.map(() => -1),
      y.map(() => 1),
      y,
    ).standardError;
  },
  skill_vs_persistence_mse: ({ mse_f, mse_ref }) => skill(mse_f as number, mse_ref as number),
};

describe("worked examples", () => {
  const rows = referenceRows("forecast/forecast-scores.csv").filter((row) => (row.score ?? "") in SCORES);

  it("are found for every score", () => {
    expect(new Set(rows.map((row) => row.score))).toEqual(new Set(Object.keys(SCORES)));
  });

  it.each(rows.map((row) => [row.id, row] as const))("%s", (_, row) => {
    const score = SCORES[row.score ?? ""]?.(JSON.parse(row.inputs_json ?? "") as Inputs);
    expect(score).toBeCloseTo(Number(row.expected), 8);
  });
});

describe("the reliability table", () => {
  it("puts every chance into one tenth, 1 into the last, and tells what came of it", () => {
    const table = reliabilityTable([0, 0.05, 0.3, 0.95, 1], [0, 1, 0, 1, 1]);
    expect(table.map(({ count }) => count)).toEqual([2, 0, 0, 1, 0, 0, 0, 0, 0, 2]);
    expect(table[0]?.told).toBeCloseTo(0.025, 12);
    expect(table[0]?.seen).toBe(0.5);
    expect(table[9]?.seen).toBe(1);
    expect(table[1]?.told).toBeNaN();
  });
});

describe("quantile and mean", () => {
  it("run straight between neighbours and know nothing of an empty list", () => {
    expect(quantileOf([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantileOf([7], 0.95)).toBe(7);
    expect(quantileOf([], 0.5)).toBeNaN();
    expect(mean([1, 2, 6])).toBe(3);
  });
});
