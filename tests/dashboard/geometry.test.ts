// Where things lie on a strip.
import { describe, expect, it } from "vitest";
import type { BoardZoneBody } from "#contract/board.ts";
import {
  fadeOf,
  fanPath,
  linePath,
  runsOf,
  spanAround,
  stretchesOf,
  tideY,
  xOf,
} from "../../dashboard/features/board/geometry.ts";
import { placeLabels } from "../../dashboard/features/zone/lane.tsx";
import { sampleBoard } from "../support/sample-night.ts";
import { NOW_MS } from "./voice.ts";

const H = 3_600_000;
const span = spanAround(NOW_MS, 480);
const zone = (id: string) => sampleBoard().zones.find((item) => item.zone.id === id) as BoardZoneBody;
const tide = { heightPx: 100, limitK: 3 };

describe("the axis", () => {
  it("reaches from twelve hours ago to thirty-six ahead: now lies at a quarter", () => {
    expect(xOf(NOW_MS, span)).toBe(120);
    expect(xOf(NOW_MS + 36 * H, span)).toBe(480);
    expect(xOf(NOW_MS - 99 * H, span)).toBe(0);
  });
});

describe("stretches", () => {
  it("past, hindsight and what is foreseen follow one another without a hole", () => {
    const found = stretchesOf(zone("slip"), NOW_MS, span);
    expect(found.map(({ kind, call }) => `${kind} ${call}`)).toEqual([
      "hindsight finished",
      "past finished",
      "past wait",
      "ahead wait",
      "ahead pour",
      "ahead wait",
      "ahead wait",
    ]);
    found.slice(1).forEach((stretch, index) => expect(stretch.fromMs).toBe(found[index]?.toMs));
    expect(found[0]?.fromMs).toBe(span.fromMs);
    expect(found.at(-1)?.toMs).toBe(span.toMs);
  });
  it("without data the strip is empty, whatever had been foreseen", () => {
    const outlook = zone("slip").outlook;
    const found = stretchesOf({ ...zone("stair"), outlook }, NOW_MS, span);
    expect(found.map(({ kind, call }) => `${kind} ${call}`)).toEqual(["past pour", "past null", "ahead null"]);
  });
  it("when the board is old, what had been foreseen begins where the server fell silent", () => {
    const later = spanAround(NOW_MS + 3 * H, 480);
    const found = stretchesOf(zone("inner"), NOW_MS, later);
    const past = found.filter((stretch) => stretch.kind === "past").at(-1);
    expect(past?.toMs).toBe(NOW_MS);
    expect(found.find((stretch) => stretch.kind === "ahead")?.fromMs).toBe(NOW_MS);
  });
  it("fades with the chance", () => {
    expect([1, 0.9, 0.89, 0.8, 0.7, 0.6, 0.5, 0.49, 0].map(fadeOf)).toEqual([0, 0, 1, 1, 2, 3, 4, 5, 5]);
  });
  it("of one call that only grows less sure get one outline", () => {
    const found = stretchesOf(zone("slip"), NOW_MS, span);
    expect(runsOf(found).map(({ kind, call }) => `${kind} ${call}`)).toEqual([
      "hindsight finished",
      "past finished",
      "past wait",
      "ahead wait",
      "ahead pour",
      "ahead wait",
    ]);
    expect(runsOf(found).at(-1)).toMatchObject({ fromMs: found.at(-2)?.fromMs, toMs: span.toMs });
  });
});

describe("the margin line", () => {
  it("keeps the limit at one height, whatever the limit is", () => {
    expect(tideY(3, tide)).toBe(tideY(2.8, { heightPx: 100, limitK: 2.8 }));
    expect(tideY(3, tide)).toBeGreaterThan(tideY(5, tide));
    expect(tideY(999, tide)).toBe(0);
    expect(tideY(-99, tide)).toBe(100);
  });
  it("rises without a kink where it begins to draw together", () => {
    const [below, at, above] = [5.9, 6, 6.1].map((k) => tideY(k, { heightPx: 10_000, limitK: 3 })) as [
      number,
      number,
      number,
    ];
    expect(below - at).toBeCloseTo(at - above, -1);
    expect(tideY(12, tide)).toBeGreaterThan(tideY(13, tide));
  });
  it("lifts the pen over gaps", () => {
    const path = linePath(NOW_MS - 2 * H, H, [5, null, 5, 4], span, tide);
    expect(path.match(/M/g)).toHaveLength(2);
    expect(path.match(/L/g)).toHaveLength(1);
  });
  it("leaves out what lies off the strip", () => {
    expect(linePath(NOW_MS - 20 * H, H, [5, 5], span, tide)).toBe("");
    expect(fanPath(NOW_MS + 40 * H, H, [1, 2], [3, 4], span, tide)).toBe("");
  });
  it("closes the fan", () => {
    const path = fanPath(NOW_MS, H, [1, 2, 3], [4, 5, 6], span, tide);
    expect(path).toMatch(/^M.*Z$/);
    expect(path.match(/L/g)).toHaveLength(5);
  });
});

describe("labels of the lane", () => {
  it("go to the first line with room, or nowhere", () => {
    const marks = [0, 10, 20, 30, 200].map((x) => ({ x, widthPx: 80 }));
    expect(placeLabels(marks, 3)).toEqual([0, 1, 2, null, 0]);
  });
});
