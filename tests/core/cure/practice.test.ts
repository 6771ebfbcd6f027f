// What every crew knows, on the slow epoxy of the night files. All of it is common practice, no source.
import { describe, expect, it } from "vitest";
import { cureCurve } from "#core/cure/curve.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { entry, ground, HOUR_MS, nightLog, NOON_MS, poured, slowEpoxy } from "../../support/night-log.ts";

/** A coat laid so many hours ago on a slab that stays at one temperature. */
function coat(hoursAgo: number, slabC: number) {
  const startMs = NOON_MS - hoursAgo * HOUR_MS;
  return nightLog({ journal: [...ground(startMs), poured(0, startMs)], says: { slab: slabC, air: slabC + 1, rh: 40 } });
}
const callOf = (log: ReturnType<typeof nightLog>, nowMs = NOON_MS) => judgeZone(log, "a", nowMs).call;

describe("common practice", () => {
  it.each([6, 9.5])("under 10 °C (50 °F) the next step waits: %s °C", (slabC) => {
    const call = callOf(coat(30, slabC));
    expect(call.call).toBe("wait");
    expect(call.window.earned).toBe(0);
    expect(call.rules.find((rule) => rule.rule === "slab-cold")?.outcome).toBe("stop");
  });

  it.each([16, 18])("walk-on after 24 to 36 h: %s °C", (slabC) => {
    const hours = cureCurve(slowEpoxy, "footH").hours(slabC);
    expect(hours).toBeGreaterThan(23.5);
    expect(hours).toBeLessThan(36);
    const { film } = callOf(coat(12, slabC));
    const afterH = ((film?.walkOnAtMs ?? 0) - (film?.pouredToMs ?? 0)) / HOUR_MS;
    expect(afterH).toBeGreaterThan(23);
    expect(afterH).toBeLessThan(36);
  });

  it("walk-on takes longer when cold", () => {
    expect(cureCurve(slowEpoxy, "footH").hours(11)).toBeGreaterThan(36);
  });

  it("a primer may be recoated within a day without sanding at 21 °C (70 °F)", () => {
    expect(callOf(coat(20, 21.11)).call).toBe("pour");
    expect(callOf(coat(20, 21.11)).steps).toEqual([]);
    expect(callOf(coat(24.5, 21.11))).toMatchObject({
      call: "abrade",
      limiting: "window-closed",
      steps: ["abrade", "clean"],
    });
  });

  it.each([6, 9])("crack filler takes %s h to harden: no coat before", (hardAfterH) => {
    const filled = (hoursAgo: number) => {
      const fillMs = NOON_MS - hoursAgo * HOUR_MS;
      return nightLog({ journal: [entry("filled", fillMs, { hardAfterH }), ...ground(NOON_MS, 0.5)] });
    };
    expect(callOf(filled(hardAfterH - 0.1))).toMatchObject({ call: "wait", limiting: "filler-soft" });
    expect(callOf(filled(hardAfterH)).call).toBe("pour");
  });
});
