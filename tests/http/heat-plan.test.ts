// The heat plan through the door, and from the desk of a running server over an imported night.
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readerOf } from "#contract/faults.ts";
import { type HeatPlanBody, HeatPlanSchema } from "#contract/heat-plan.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { casesFolder } from "../support/cases.ts";
import { fakeDesk } from "../support/fake-desk.ts";
import { type Door, openDoor } from "../support/http-door.ts";
import { runApp, type RunningApp, valueOf } from "../support/running-app.ts";

const PATH = "/sites/boathouse/zones/slip/heat-plan";
const HEATER = { kW: 60, fuel: "propane", vented: true } as const;

describe("through the door", () => {
  let door: Door;
  beforeAll(async () => {
    door = await openDoor();
  });
  afterAll(() => door.app.close());

  it("four choices, whole and as documented", async () => {
    const plan = await door.fits(HeatPlanSchema, 200, "POST", PATH, { heater: HEATER, targetC: 20 });
    expect(plan.choices.map((choice) => choice.plan)).toEqual(["no-heat", "heat-now", "heat-from", "heat-then-coast"]);
    const [without, now] = plan.choices;
    expect(without).toMatchObject({ from: null, to: null, targetC: null, heatKWh: 0, fuel: null, waterKg: 0 });
    expect(now).toMatchObject({ from: plan.at, to: null, targetC: 20 });
  });

  it.each<[string, number, object, string]>([
    ["no heater", 422, { targetC: 20 }, "/heater"],
    ["a heater without heat", 422, { heater: { ...HEATER, kW: 0 }, targetC: 20 }, "/heater/kW"],
    ["a fuel that is none", 422, { heater: { ...HEATER, fuel: "wood" }, targetC: 20 }, "/heater/fuel"],
    ["a target in °F", 422, { heater: HEATER, targetC: 68 }, "/targetC"],
    ["an unknown class", 422, { heater: HEATER, targetC: 20, building: { class: "barn" } }, "/building/class"],
    ["a past start", 422, { heater: HEATER, targetC: 20, from: "2020-01-01T00:00:00Z" }, "/from"],
    ["a field too many", 422, { heater: HEATER, targetC: 20, night: 1 }, "/night"],
  ])("%s is refused with its field", async (_, status, body, field) => {
    const { faults } = await door.refused(status, "POST", PATH, body);
    expect(faults?.map((fault) => fault.field)).toContain(field);
  });

  it("a zone of which too little is known is 409, one that is not there 404", async () => {
    const body = { heater: HEATER, targetC: 20 };
    const faults = [{ field: "/zone", reason: "too little is known to look ahead" }];
    const desk = { ...fakeDesk(), heatPlan: () => ({ ok: false, refusal: "conflict", faults }) as const };
    const blind = await openDoor({ desk });
    expect((await blind.refused(409, "POST", PATH, body)).faults).toEqual(faults);
    await blind.app.close();
    await door.refused(404, "POST", "/sites/boathouse/zones/attic/heat-plan", body);
  });
});

describe("from a running server", () => {
  let running: RunningApp;
  const night = JSON.parse(readFileSync(`${casesFolder}20.json`, "utf8")) as {
    site: { id: string; timezone: string; altitudeM: number };
    zones: { id: string }[];
    ask: { at: string; zone: string }[];
  };
  const { at, zone } = night.ask[0] as { at: string; zone: string };
  const nowMs = Date.parse(at) + 60_000;
  const desk = () => running.app.desk;
  const ask = (more: object = {}) => desk().heatPlan("case", zone, { heater: HEATER, targetC: 20, ...more });

  beforeAll(async () => {
    running = await runApp({ atMs: nowMs, shut: true, empty: true });
    valueOf(await desk().addSite({ name: "Case", ...night.site }));
    valueOf(await desk().importNightFile("case", night));
  });
  afterAll(() => running.end());

  it("answers over the night as it was heard, in the schema of the wire", () => {
    const plan: HeatPlanBody = valueOf(ask());
    expect(readerOf(HeatPlanSchema)(plan).ok).toBe(true);
    expect(plan.building.basis).toBe("rough");
    expect(valueOf(ask({ building: { class: "tight", floorM2: 200 } })).building).toMatchObject({
      basis: "stated",
      floorM2: 200,
    });
    expect(plan.choices[0]?.callNow).toBe("wait");
  });

  it("begins the later heating when it was asked to, within the outlook", () => {
    const later = isoFromMs(nowMs + 3 * 3_600_000);
    const [, , from] = valueOf(ask({ from: later })).choices;
    expect(Math.abs(Date.parse(from?.from ?? "") - Date.parse(later))).toBeLessThanOrEqual(5 * 60_000);
    for (const wrong of ["2026-02-31T00:00:00Z", isoFromMs(nowMs - 3_600_000), isoFromMs(nowMs + 48 * 3_600_000)])
      expect(ask({ from: wrong })).toMatchObject({ ok: false, refusal: "invalid", faults: [{ field: "/from" }] });
  });

  it("names what is missing: the zone, or anything to look ahead with", async () => {
    const question = { heater: HEATER, targetC: 20 };
    expect(desk().heatPlan("case", "attic", question)).toMatchObject({ ok: false, refusal: "missing" });
    valueOf(
      await desk().putZone(
        "case",
        { id: "new", name: "New", areaM2: 20, pourM2PerH: 40, system: ["e1"], base: "porous" },
        "add",
      ),
    );
    expect(desk().heatPlan("case", "new", question)).toMatchObject({
      ok: false,
      refusal: "conflict",
      faults: [{ field: "/zone" }],
    });
  });
});
