// The ensemble: seeded, begins with what stands now, widens ahead and where less was heard, and follows a night that repeats.
import { describe, expect, it } from "vitest";
import { rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { MEMBERS } from "#core/outlook/draws.ts";
import { outlookOf } from "#core/outlook/ensemble.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { zoneState } from "#core/zone/state.ts";
import { heardFrom, HOUR_MS, nightLog, nodeOf, NOON_MS } from "../../support/night-log.ts";

const cosine = (atMs: number) => Math.cos((2 * Math.PI * (atMs - NOON_MS)) / (24 * HOUR_MS));
const says = { slab: 16, air: 17, rh: (atMs: number) => rhPctFromDewPoint(17, 10 - 2 * cosine(atMs)) };

/** A damp river outside, a little ahead of the room. */
const outside = { air: 14, rh: (atMs: number) => rhPctFromDewPoint(14, 10 - 2 * cosine(atMs + HOUR_MS)) };
const nodes = [nodeOf("n1"), { ...nodeOf("river"), zone: null }];
const during = (hours: number) => ({ fromMs: NOON_MS - hours * HOUR_MS, toMs: NOON_MS });

/** A floor heard for so many hours, with an outdoor node heard for as long or less. */
function logOf(hours: number, outdoorHours = hours): SiteLog {
  const series = [...heardFrom("n1", says, during(hours)), ...heardFrom("river", outside, during(outdoorHours))];
  return nightLog({ nowMs: NOON_MS, nodes, series });
}

function outlook(hours: number, outdoorHours = hours): Outlook {
  const log = logOf(hours, outdoorHours);
  const made = outlookOf(zoneState(log, "a", { nowMs: NOON_MS, heardByMs: NOON_MS }));
  if (made === null) throw new Error("no outlook");
  return made;
}

/** 10, 50 and 90 % of the dew point after so many hours. */
function dewAfter(of: Outlook, hours: number): [number, number, number] {
  const sorted = of.members.map((member) => member.dewPointC[hours * 6] as number).sort((a, b) => a - b);
  const place = (q: number) => sorted[Math.ceil(q * sorted.length) - 1] as number;
  return [place(0.1), place(0.5), place(0.9)];
}

describe("the ensemble", () => {
  it("is the same for the same log, and every member begins with what stands now", () => {
    const first = outlook(50);
    expect(first.members).toHaveLength(MEMBERS);
    expect(outlook(50)).toEqual(first);
    for (const member of first.members) {
      expect(member.slabColdC[0]).toBeCloseTo(16, 6);
      expect(member.dewPointC[0]).toBeCloseTo(8, 6);
    }
    expect(first.members.reduce((sum, member) => sum + member.weight, 0)).toBeCloseTo(1, 9);
  });

  it("holds finite numbers throughout, the hottest spot never colder than the coldest", () => {
    for (const member of outlook(50).members) {
      for (const column of [member.slabColdC, member.slabHotC, member.airC, member.dewPointC])
        expect(column.every(Number.isFinite)).toBe(true);
      expect(member.slabHotC.every((hotC, step) => hotC >= (member.slabColdC[step] as number) - 1e-9)).toBe(true);
    }
  });

  it("follows a night that repeats, and spreads with the hours", () => {
    const made = outlook(50);
    const [low, middle, high] = dewAfter(made, 12);
    // 8 now, 12 at the same hour of last night; a dew point outdoors seldom repeats, so it is not believed whole.
    expect(middle).toBeGreaterThan(10);
    expect(middle).toBeLessThan(12.5);
    expect(low).toBeLessThan(middle);
    const [soonLow, , soonHigh] = dewAfter(made, 1);
    expect(soonHigh - soonLow).toBeLessThan(high - low);
  });

  it("learns nothing of the room from outdoors that were hardly heard", () => {
    const [, middle] = dewAfter(outlook(50, 2), 2);
    // The room stands below the air outside and rises; it does not fall away.
    expect(middle).toBeGreaterThan(8);
  });

  it("is null with less than a day heard and nothing said of the weather, and where nobody tells of the outdoors", () => {
    const at = { nowMs: NOON_MS, heardByMs: NOON_MS };
    expect(outlookOf(zoneState(logOf(10), "a", at))).toBeNull();
    expect(outlookOf(zoneState(nightLog({ nowMs: NOON_MS, hours: 50, says }), "a", at))).toBeNull();
  });
});
