// What is held in memory: the order of hearing and judging, series that grow and are cut, and what was refused of whom.
import { describe, expect, it } from "vitest";
import { cutSeries, emptySeries, insertReading } from "../../server/live/live-series.ts";
import { LiveSite } from "../../server/live/live-site.ts";
import { createMoments } from "../../server/live/moments.ts";

describe("moments", () => {
  const at = (times: number[]) => createMoments({ nowMs: () => times.shift() ?? Number.NaN, pace: 1 });

  it("puts what is heard after a judging behind it, within one millisecond too", () => {
    const moments = at([1000, 1000, 1000, 1000, 1001.6]);
    expect(moments.heard()).toBe(1000);
    expect(moments.judged()).toBe(1000);
    expect(moments.heard()).toBe(1001);
    expect(moments.judged()).toBe(1001);
    expect(moments.heard()).toBe(1002);
  });

  it("holds still while a clock steps back a little", () => {
    const moments = at([9000, 8200, 8300]);
    expect(moments.judged()).toBe(9000);
    expect(moments.heard()).toBe(9001);
    expect(moments.now()).toBe(9001);
    expect(moments.setBackMs()).toBe(0);
  });

  it("follows a clock that is set back, and says so", () => {
    const moments = at([900_000, 500_000]);
    moments.judged();
    expect(moments.heard()).toBe(500_000);
    expect(moments.setBackMs()).toBe(400_000);
  });
});

describe("a series in memory", () => {
  const filled = (readings: [atMs: number, value: number, heardMs: number][]) => {
    const series = emptySeries("bay-1", "slab");
    for (const [atMs, value, heardMs] of readings) insertReading(series, atMs, value, heardMs);
    return series;
  };
  const plain = ({ atMs, values, heardMs }: ReturnType<typeof filled>) =>
    [atMs, values, heardMs].map((one) => one.slice());

  it("stays in order, and takes each time once", () => {
    const series = filled([
      [30, 3, 31],
      [10, 1, 90],
      [20, 2, 91],
      [20, 9, 92],
      [40, 4, 41],
    ]);
    expect(plain(series)).toEqual([
      [10, 20, 30, 40],
      [1, 2, 3, 4],
      [90, 91, 31, 41],
    ]);
  });

  it("keeps the last reading before the cut", () => {
    const series = filled([
      [10, 1, 11],
      [20, 2, 21],
      [30, 3, 31],
      [40, 4, 41],
      [50, 5, 51],
    ]);
    cutSeries(series, 40, 35);
    expect(series.atMs.slice()).toEqual([30, 40, 50]);
    cutSeries(series, 1000, 35);
    expect(series.values.slice()).toEqual([3, 5]);
  });

  it("keeps the last one that had been heard early, beside the last", () => {
    const series = filled([
      [10, 1, 11],
      [20, 2, 21],
      [30, 3, 900],
      [40, 4, 901],
      [50, 5, 51],
    ]);
    cutSeries(series, 45, 100);
    expect(series.values.slice()).toEqual([2, 4, 5]);
  });
});

describe("what was refused of nodes", () => {
  const node = (id: string) => ({ id, zone: null, everyS: 60, accuracy: { slabK: 1, airK: 1, rhPct: 3 } });
  const site = () => {
    const record = { site: { id: "hall", name: "Hall", timezone: "UTC", altitudeM: 0 }, sheets: [], sheetVersions: [] };
    return new LiveSite({ ...record, zones: [], nodes: [node("bay-1")] }, 0, [], [], null, new Map());
  };

  it("is counted of the site's own, and of strangers only the latest stay", () => {
    const hall = site();
    hall.refuse("bay-1", "clock", 2);
    for (let stranger = 0; stranger < 20_000; stranger++) hall.refuse(`stranger-${stranger}`, "unknown node", 1);
    const known = Array.from({ length: 20_000 }, (_, stranger) => hall.troubleOf(`stranger-${stranger}`));
    expect(known.filter((trouble) => trouble !== null)).toHaveLength(500);
    expect(hall.troubleOf("stranger-19999")).toEqual({ count: 1, lastReason: "unknown node" });
    hall.refuse("bay-1", "too old", 1);
    expect(hall.troubleOf("bay-1")).toEqual({ count: 3, lastReason: "too old" });
  });

  it("goes on to be counted of a stranger that becomes one of the site", () => {
    const hall = site();
    hall.refuse("bay-2", "unknown node", 5);
    hall.change({ nodes: [node("bay-1"), node("bay-2")] }, 1);
    expect(hall.troubleOf("bay-2")?.count).toBe(5);
    hall.refuse("bay-2", "clock", 1);
    for (let stranger = 0; stranger < 1000; stranger++) hall.refuse(`stranger-${stranger}`, "unknown node", 1);
    expect(hall.troubleOf("bay-2")).toEqual({ count: 6, lastReason: "clock" });
  });
});
