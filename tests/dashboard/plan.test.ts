// Drawing an outline: strokes and their undoing, what is typed beside it, ids from names, and the same texts in both languages.
import { describe, expect, it } from "vitest";
import type { NodeStateBody } from "#contract/board.ts";
import { areaM2, type PlanPoint } from "#core/plan/polygon.ts";
import { idFrom } from "../../dashboard/data/id-from.ts";
import {
  type Drawing,
  drawingOf,
  drawn,
  paperOf,
  rectangleBeside,
  type Stroke,
  viewOf,
} from "../../dashboard/features/plan/drawing.ts";
import { probesOf } from "../../dashboard/features/plan/probes.ts";
import { draftOf, zoneFrom } from "../../dashboard/features/plan/zone-form.tsx";
import { en } from "../../dashboard/text/en.ts";
import { es } from "../../dashboard/text/es.ts";
import { m2FromTyped, mFromTyped, showLength } from "../../dashboard/units/lengths.ts";

const p = (xM: number, yM: number): PlanPoint => ({ xM, yM });
const after = (drawing: Drawing, strokes: readonly Stroke[]) => strokes.reduce(drawn, drawing);
const put = (...points: readonly PlanPoint[]): Stroke[] => points.map((point) => ({ do: "put", point }));
const SQUARE = [p(0, 0), p(4, 0), p(4, 4), p(0, 4)];

describe("an outline while it is drawn", () => {
  it("is closed by its first corner, and then takes no more", () => {
    const closed = after(drawingOf([]), [...put(...SQUARE, p(0, 0)), ...put(p(9, 9))]);
    expect(closed).toMatchObject({ corners: SQUARE, closed: true });
    const early = after(drawingOf([]), put(p(0, 0), p(4, 0), p(0, 0)));
    expect(early).toMatchObject({ corners: [p(0, 0), p(4, 0)], closed: false });
    expect(after(drawingOf([]), put(p(1, 1), p(1, 1))).corners).toEqual([p(1, 1)]);
  });

  it("is undone stroke by stroke, a dragged corner at once", () => {
    const start = drawingOf(SQUARE);
    const dragged = after(start, [
      { do: "move", index: 2, point: p(5, 4) },
      { do: "drag", index: 2, point: p(6, 5) },
      { do: "drag", index: 2, point: p(7, 6) },
      { do: "insert", index: 0 },
      { do: "remove", index: 4 },
    ]);
    expect(dragged.corners).toEqual([p(0, 0), p(2, 0), p(4, 0), p(7, 6)]);
    const back = after(dragged, [{ do: "undo" }, { do: "undo" }]);
    expect(back.corners).toEqual([p(0, 0), p(4, 0), p(7, 6), p(0, 4)]);
    expect(after(back, [{ do: "undo" }, { do: "undo" }])).toMatchObject({ corners: SQUARE, closed: true, past: [] });
  });

  it("opens again when fewer than three corners are left", () => {
    const two = after(drawingOf(SQUARE), [
      { do: "remove", index: 0 },
      { do: "remove", index: 0 },
    ]);
    expect(two).toMatchObject({ corners: [p(4, 4), p(0, 4)], closed: false });
  });
});

describe("the paper", () => {
  it("grows with what is drawn, and a rectangle stands beside its neighbours", () => {
    expect(paperOf(null, [SQUARE])).toEqual({ widthM: 30, heightM: 20 });
    expect(paperOf({ widthM: 10, heightM: 8 }, [[p(0, 0), p(50, 0), p(50, 3)]])).toEqual({ widthM: 51, heightM: 8 });
    expect(rectangleBeside([SQUARE], 3, 2)[0]).toEqual(p(4, 0));
    expect(areaM2(rectangleBeside([], 3, 2))).toBe(6);
    expect(viewOf(null, [SQUARE])).toEqual({ xM: -0.16, yM: -0.16, widthM: 4.32, heightM: 4.32 });
  });
});

describe("what is typed beside an outline", () => {
  const draft = { ...draftOf(null, "Bay", ["coat"], "us"), name: " Bay " };
  it("is the outline's area until one is typed, which then counts and says so", () => {
    const drawnArea = zoneFrom(draft, SQUARE, en, "us");
    expect(drawnArea).toMatchObject({ body: { name: "Bay", areaM2: 16, areaTyped: false, outline: SQUARE } });
    const typed = zoneFrom({ ...draft, area: "200" }, SQUARE, en, "us");
    // 1 ft2 = 0.09290304 m2 exactly (international foot).
    expect(typed).toMatchObject({ body: { areaM2: 200 * 0.09290304, areaTyped: true } });
    const listed = zoneFrom({ ...draft, area: "200" }, [], en, "us");
    expect(Object.keys("body" in listed ? listed.body : {}).sort()).toEqual(
      ["areaM2", "base", "name", "pourM2PerH", "system"].sort(),
    );
  });

  it("is refused field by field", () => {
    const bad = zoneFrom({ ...draft, name: " ", rate: "x", system: [], area: "0" }, [p(0, 0), p(1, 0)], en, "si");
    expect("faults" in bad ? Object.keys(bad.faults).sort() : []).toEqual(["name", "outline", "rate", "system"]);
    const none = zoneFrom(draft, [], en, "si");
    expect(none).toEqual({ faults: { area: "Draw the outline, or type the area." } });
  });

  it("reads feet and metres, with comma or point", () => {
    expect(mFromTyped("10", "us")).toBeCloseTo(3.048, 9);
    expect(mFromTyped("3,5", "si")).toBe(3.5);
    expect(mFromTyped("", "si")).toBeNull();
    expect(mFromTyped("3 m", "si")).toBeNaN();
    expect(m2FromTyped("1000", "us")).toBeCloseTo(92.90304, 9);
    expect(showLength(3.048, "us")).toBe("10\u00a0ft");
  });
});

describe("probes on the plan", () => {
  const state = (node: object, retired = false) => ({ node, retired, lastHeard: null }) as unknown as NodeStateBody;
  it("are each slab probe, the node itself outdoors, and none out of use", () => {
    const probes = probesOf([
      state({ id: "a", zone: "z", probes: { slab: { xM: 1, yM: 2 }, "slab.2": {}, air: {} } }),
      state({ id: "b", zone: "z" }),
      state({ id: "out", zone: null, probes: { air: { xM: 0, yM: 0 } } }),
      state({ id: "gone", zone: "z" }, true),
    ]);
    expect(probes.map(({ key, at }) => [key, at])).toEqual([
      ["a/slab", p(1, 2)],
      ["a/slab.2", null],
      ["b/slab", null],
      ["out/air", p(0, 0)],
    ]);
  });
});

describe("an id from a name", () => {
  it("is what topics can carry, and never one that is taken", () => {
    expect(idFrom("Nave Peña, 2º", [], "zone")).toBe("nave-pena-2");
    expect(idFrom("Bay", ["bay", "bay-2"], "zone")).toBe("bay-3");
    expect(idFrom("¿?", [], "zone")).toBe("zone");
    expect(idFrom(en.app.sites, [], "x")).not.toBe(idFrom(es.app.sites, [], "x"));
  });
});
