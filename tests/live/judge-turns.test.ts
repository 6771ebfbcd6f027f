// The turns of the minute: every zone within its time, and before long no two at once.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { keyOf, type ZoneRef } from "../../server/pipeline-queue.ts";
import { isFresh, turnsOf, UNJUDGED_MS } from "../../server/pipeline-turns.ts";

const MINUTE_MS = 60_000;
const zonesOf = (count: number): ZoneRef[] =>
  Array.from({ length: count }, (_, index) => ({ site: "s", zone: `${index}` }));

/** Plays minutes in which zones are judged at their turns, and at other moments too; gives the moments of each. */
function played(count: number, minutes: number, others: readonly { readonly zone: number; readonly atMs: number }[]) {
  const zones = zonesOf(count);
  const judged = new Map<string, number[]>(zones.map((zone) => [keyOf(zone), []]));
  const lastOf = (zone: ZoneRef) => judged.get(keyOf(zone))?.at(-1) ?? Number.NEGATIVE_INFINITY;
  for (let minute = 0; minute < minutes; minute++) {
    const nowMs = minute * MINUTE_MS;
    const turns = turnsOf(zones, (zone) => nowMs - lastOf(zone)).map(({ zone, inMs }) => ({
      ...{ zone, atMs: nowMs + inMs, ofMinute: true },
    }));
    const news = others
      .filter(({ atMs }) => atMs >= nowMs && atMs < nowMs + MINUTE_MS)
      .map(({ zone, atMs }) => ({ zone: zones[zone % count] as ZoneRef, atMs, ofMinute: false }));
    for (const { zone, atMs, ofMinute } of [...turns, ...news].sort((a, b) => a.atMs - b.atMs))
      if (!ofMinute || !isFresh(atMs - lastOf(zone))) judged.get(keyOf(zone))?.push(atMs);
  }
  return [...judged.values()];
}

describe("the turns of the minute", () => {
  it("leave no zone unjudged for longer than a look is good for, whatever else has it judged", () => {
    const others = fc.array(fc.record({ zone: fc.nat(40), atMs: fc.nat(8 * MINUTE_MS) }), { maxLength: 200 });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), others, (count, news) => {
        for (const moments of played(count, 8, news)) {
          expect(moments[0]).toBe(0);
          for (const [index, atMs] of moments.slice(1).entries())
            expect(atMs - (moments[index] as number)).toBeLessThanOrEqual(UNJUDGED_MS);
          expect(8 * MINUTE_MS - (moments.at(-1) as number)).toBeLessThanOrEqual(UNJUDGED_MS);
        }
      }),
    );
  });

  it("lie evenly in it after some minutes, though all began at once", () => {
    const lastMinute = played(60, 8, [])
      .flat()
      .filter((atMs) => atMs >= 7 * MINUTE_MS)
      .sort((a, b) => a - b);
    expect(lastMinute).toHaveLength(60);
    for (const [index, atMs] of lastMinute.entries()) expect(atMs).toBeCloseTo(7 * MINUTE_MS + index * 1000, 0);
  });

  it("come at once where the clock was set back, and for who was never judged", () => {
    const [a, b] = zonesOf(2) as [ZoneRef, ZoneRef];
    expect(turnsOf([a, b], () => -5).map(({ inMs }) => inMs)).toEqual([0, 0]);
    expect(turnsOf([a, b], () => Number.POSITIVE_INFINITY).map(({ inMs }) => inMs)).toEqual([0, 0]);
    expect(isFresh(-5)).toBe(false);
  });
});
