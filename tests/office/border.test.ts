// What an office tells whoever is bound to sites or to one zone.
import { expect, it } from "vitest";
import type { OfficeBody } from "#contract/office.ts";
import { officeWithin } from "#contract/office-border.ts";
import { sampleAlarm } from "../support/sample-alarms.ts";

const zone = (id: string) => ({ id, name: id, call: null, unread: false, behind: false });
const site = (id: string, alarms = [sampleAlarm()]) => ({
  ...{ site: id, name: id, timezone: "UTC", publicUrl: null, aliveAt: null, oldAfterS: 150 },
  ...{ zones: [zone("bay"), zone("slip")], alarms, alarmCount: alarms.length },
});
const body: OfficeBody = { at: "2026-02-03T12:00:00Z", deaf: null, sites: [site("dock"), site("pier")] };

it("tells all to whoever has no border", () => {
  expect(officeWithin(body, null, null)).toEqual(body);
});

it("tells of the sites within reach alone", () => {
  expect(officeWithin(body, ["pier"], null).sites.map((one) => one.site)).toEqual(["pier"]);
  expect(officeWithin(body, [], null).sites).toEqual([]);
});

it("tells of one zone nothing that names others", () => {
  const alarms = [sampleAlarm({ id: "own", zones: ["bay"] }), sampleAlarm({ id: "shared", zones: ["bay", "slip"] })];
  const seen = officeWithin(
    { ...body, sites: [site("dock", [...alarms, sampleAlarm({ zones: [] })])] },
    ["dock"],
    "bay",
  );
  expect(seen.sites[0]?.zones.map(({ id }) => id)).toEqual(["bay"]);
  expect(seen.sites[0]?.alarms.map(({ id }) => id)).toEqual(["own"]);
  expect(JSON.stringify(seen)).not.toContain("slip");
});
