// Heat put into an outlook: thermostats, floors, fumes, and nothing at all without a heater.
import { describe, expect, it } from "vitest";
import { applyHeat } from "#core/heat/apply.ts";
import { roughBuilding } from "#core/heat/building.ts";
import type { Heater, HeatSchedule } from "#core/heat/heater.ts";
import { heatRun } from "#core/heat/warm.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";

const STEP_MS = 600_000;
const LENGTH = 432;
const member = (airC: number, slabC: number, dewPointC: number, weight: number): OutlookMember => {
  const column = (value: number, swingK: number) =>
    Float64Array.from({ length: LENGTH }, (_, step) => value + swingK * Math.sin(step / 20));
  return {
    weight,
    airC: column(airC, 2),
    slabColdC: column(slabC, 0.3),
    slabHotC: column(slabC + 2, 0.3),
    dewPointC: column(dewPointC, 0.5),
  };
};
const OUTLOOK: Outlook = {
  fromMs: 0,
  stepMs: STEP_MS,
  steps: 216,
  basis: ["two-nights"],
  feedFetchedMs: null,
  members: [member(8, 9, 5, 0.5), member(4, 7, 4, 0.3), member(19, 12, 6, 0.2)],
};
const BUILDING = roughBuilding("tight", 120, 4);
const warmed = (heater: Heater, schedule: HeatSchedule = [{ fromStep: 0, toStep: LENGTH, targetC: 18 }]) =>
  applyHeat(OUTLOOK, heatRun(BUILDING, heater, schedule, STEP_MS));
const VENTED: Heater = { kW: 25, fuel: "propane", vented: true };
const marginK = (of: OutlookMember, step: number) => (of.slabColdC[step] as number) - (of.dewPointC[step] as number);

describe("heat put into an outlook", () => {
  it("warms air and floor of each member up to the thermostat and no further", () => {
    const { outlook } = warmed(VENTED);
    for (const [index, after] of outlook.members.entries()) {
      const before = OUTLOOK.members[index] as OutlookMember;
      expect(after.weight).toBe(before.weight);
      for (let step = 1; step < LENGTH; step++) {
        const beforeC = before.airC[step] as number;
        const afterC = after.airC[step] as number;
        expect(afterC).toBeGreaterThanOrEqual(beforeC);
        // Warm walls may carry a member that turns warm by itself a little beyond.
        expect(afterC).toBeLessThanOrEqual(Math.max(18, beforeC + 1.5) + 1e-6);
        expect(after.slabColdC[step] as number).toBeLessThanOrEqual(
          Math.max(before.slabColdC[step] as number, afterC) + 1e-9,
        );
        expect(after.slabColdC[step] as number).toBeGreaterThanOrEqual(before.slabColdC[step] as number);
      }
    }
    // The colder member needs the longer heating, and its floor gains the more.
    const gained = (index: number) =>
      (outlook.members[index]?.slabColdC[200] as number) - (OUTLOOK.members[index]?.slabColdC[200] as number);
    expect(gained(1)).toBeGreaterThan(gained(0));
    expect(gained(0)).toBeGreaterThan(gained(2));
  });

  it("vented heat leaves the water alone; fumes raise every dew point", () => {
    const dry = warmed(VENTED);
    const wet = warmed({ ...VENTED, vented: false });
    expect(dry.waterKg).toBe(0);
    for (const [index, before] of OUTLOOK.members.entries())
      expect(dry.outlook.members[index]?.dewPointC).toEqual(before.dewPointC);
    expect(wet.heatKWh).toBeCloseTo(dry.heatKWh, 6);
    // Source: tests/reference/units, row C-c3-wL: 0.1269 kg of water per kWh of propane, net.
    expect(wet.waterKg / wet.heatKWh).toBeCloseTo(0.12692, 4);
    for (let step = 1; step < 216; step++)
      expect(wet.outlook.members[0]?.dewPointC[step] as number).toBeGreaterThan(
        dry.outlook.members[0]?.dewPointC[step] as number,
      );
  });

  it("shows the trap of a tight cold room: fumes take margin first, while the floor is still cold", () => {
    const { outlook } = warmed({ ...VENTED, vented: false });
    const [before, after] = [OUTLOOK.members[0] as OutlookMember, outlook.members[0] as OutlookMember];
    expect(marginK(after, 12)).toBeLessThan(marginK(before, 12) - 1);
    const vented = warmed(VENTED).outlook.members[0] as OutlookMember;
    expect(marginK(vented, 12)).toBeGreaterThan(marginK(before, 12));
  });

  it("changes nothing without power, nothing before it begins, and nothing in the outlook that it was given", () => {
    const copy = structuredClone(OUTLOOK);
    const none = warmed({ ...VENTED, kW: 0 });
    expect(none).toEqual({ outlook: OUTLOOK, heatKWh: 0, waterKg: 0 });
    const late = warmed(VENTED, [{ fromStep: 60, toStep: 100, targetC: 18 }]);
    expect(late.outlook.members[0]?.airC.slice(0, 61)).toEqual(OUTLOOK.members[0]?.airC.slice(0, 61));
    expect(late.outlook.members[0]?.airC[61] as number).toBeGreaterThan(OUTLOOK.members[0]?.airC[61] as number);
    expect(late.heatKWh).toBeLessThan(warmed(VENTED).heatKWh);
    expect(OUTLOOK).toEqual(copy);
  });

  it("refuses a heater prepared for other steps", () => {
    const run = heatRun(BUILDING, VENTED, [], 60_000);
    expect(() => applyHeat(OUTLOOK, run)).toThrow(/stepMs/);
  });
});
