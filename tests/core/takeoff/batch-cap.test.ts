// The material of a sheet enters the call as the size of a batch, and as nothing else.
import { describe, expect, it } from "vitest";
import type { Sheet } from "#core/cure/sheet.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { batchCapL } from "#core/takeoff/batch.ts";
import type { Material } from "#core/takeoff/material.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { nightLog, MINUTE_MS, NOON_MS, slowEpoxy, zoneA } from "../../support/night-log.ts";
import { BODY } from "./material.ts";

const withMaterial = (log: SiteLog, material: Material | undefined): SiteLog => ({
  ...log,
  sheets: log.sheets.map((sheet): Sheet => (material === undefined ? sheet : { ...sheet, material })),
});
const capOf = (log: SiteLog) => judgeZone(log, "a", NOON_MS).call.pour?.batchCapL ?? null;
const measured = (resinC: number, agoMin: number): SiteLog["journal"][number] => ({
  id: `resin-${resinC}`,
  did: "measured",
  zone: "a",
  by: null,
  atMs: NOON_MS - agoMin * MINUTE_MS,
  heardMs: NOON_MS - agoMin * MINUTE_MS,
  resinC,
});

describe("the biggest batch in the call", () => {
  const night = nightLog();

  it("is reckoned for resin as warm as a heated room, or as it was measured in the last two hours", () => {
    const at = (resinC: number) => batchCapL(BODY, { resinC, placeM2PerH: zoneA.pourM2PerH });
    expect(judgeZone(night, "a", NOON_MS).call.call).toBe("pour");
    expect(capOf(withMaterial(night, BODY))).toBe(at(23));
    const with19 = (agoMin: number) => ({ ...night, journal: [...night.journal, measured(19, agoMin)] });
    expect(capOf(withMaterial(with19(30), BODY))).toBe(at(19));
    expect(capOf(withMaterial(with19(121), BODY))).toBe(at(23));
  });

  it("moves nothing else of the call", () => {
    const plain = judgeZone(night, "a", NOON_MS);
    const known = judgeZone(withMaterial(night, BODY), "a", NOON_MS);
    expect(plain.call.pour).not.toBeNull();
    expect(plain.call.pour?.batchCapL).toBeNull();
    expect(known.call.pour?.batchCapL).toBeGreaterThan(1);
    const without = (judged: typeof plain) => ({ ...judged.call, pour: { ...judged.call.pour, batchCapL: 0 } });
    expect(without(known)).toEqual(without(plain));
    expect(known.view).toEqual(plain.view);
  });

  it("is not told from nonsense, nor without a pot life", () => {
    const nonsense: Material = { ...BODY, dryFilmUm: 100 };
    expect(capOf(withMaterial(night, nonsense))).toBeNull();
    expect(capOf(withMaterial(night, { ...BODY, potLife: [] }))).toBeNull();
    expect(judgeZone(withMaterial(night, nonsense), "a", NOON_MS).call.call).toBe("pour");
    expect(slowEpoxy.material).toBeUndefined();
  });
});
