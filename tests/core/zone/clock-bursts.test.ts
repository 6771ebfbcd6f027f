// A buffer that empties itself is no wrong clock; a clock that is always behind is one. Common practice, no source.
import { describe, expect, it } from "vitest";
import { clockDoubts, clockSpells } from "#core/zone/trust/clock.ts";
import type { Series } from "#core/zone/site.ts";

const T0 = Date.UTC(2026, 1, 3, 12);
const MIN = 60_000;

/** Readings every five minutes for `hours` up to T0, heard as `heard` says. */
function series(hours: number, heard: (atMs: number, index: number) => number): Series {
  const atMs = Array.from({ length: hours * 12 }, (_, i) => T0 - (hours * 12 - 1 - i) * 5 * MIN);
  return { node: "n", quantity: "slab", atMs, values: atMs.map(() => 12), heardMs: atMs.map(heard) };
}

describe("clockDoubts", () => {
  it("does not blame two days that came in one burst, now or looking back", () => {
    // Twelve rounds a packet, a packet every 80 ms, all after T0.
    const burst = series(54, (_, index) => T0 + 30_000 + Math.floor(index / 12) * 80);
    const heardByMs = T0 + 10 * MIN;
    expect(clockDoubts([burst], { nowMs: heardByMs, heardByMs })).toEqual([]);
    expect(clockDoubts([burst], { nowMs: T0 - 8 * 60 * MIN, heardByMs })).toEqual([]);
  });
  it("does not blame a node whose last reading is old: it fell silent after its burst", () => {
    const burst = series(20, (_, index) => T0 + 97 * MIN + Math.floor(index / 12) * 80);
    expect(clockDoubts([burst], { nowMs: T0 + 100 * MIN, heardByMs: T0 + 100 * MIN })).toEqual([]);
  });
  it("blames a clock that is a quarter of an hour behind, packet after packet", () => {
    const behind = series(3, (atMs) => atMs + 15 * MIN);
    expect(clockDoubts([behind], { nowMs: T0 + 15 * MIN, heardByMs: T0 + 15 * MIN })).toMatchObject([
      { kind: "clock", measured: 900, limit: 600 },
    ]);
  });
  it("blames a clock that runs ahead", () => {
    const ahead = series(1, (atMs) => atMs - 4 * MIN);
    expect(clockDoubts([ahead], { nowMs: T0, heardByMs: T0 })).toMatchObject([{ kind: "clock", measured: -240 }]);
  });
});

describe("clockSpells", () => {
  const heardByMs = T0 + 10 * MIN;
  const spellsOf = (of: Series) => clockSpells([of], { nowMs: T0, heardByMs }, T0 - 24 * 60 * MIN);
  /** In the middle of six hours so many readings were stamped a quarter of an hour too early; the last three came with others. */
  const behindFor = (readings: number) =>
    series(6, (atMs, index) => (index >= 30 && index < 30 + readings ? atMs + 15 * MIN : atMs));

  it("finds the least that counts, and names its stamps", () => {
    expect(spellsOf(behindFor(8))).toEqual([]);
    const at = (index: number) => T0 - (71 - index) * 5 * MIN;
    expect(spellsOf(behindFor(9))).toMatchObject([{ probe: "n/slab", kind: "clock", sinceMs: at(30), measured: 900 }]);
  });
  it("takes one burst of thousands for none, whatever else came with it", () => {
    const burst = series(54, (atMs, index) => (index < 600 ? T0 + Math.floor(index / 12) * 80 : atMs));
    expect(spellsOf(burst)).toEqual([]);
  });
});
