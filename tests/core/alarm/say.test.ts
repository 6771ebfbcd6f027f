// The sentence of an alarm: fits a lock screen, in both languages and units, whatever it names.
import { describe, expect, it } from "vitest";
import { NO_FACTS, type AlarmFacts } from "#core/alarm/alarm.ts";
import { ALARM_KINDS, type AlarmKind } from "#core/alarm/kinds.ts";
import { BODY_LONGEST, sayAlarm, TITLE_LONGEST } from "#core/alarm/say.ts";

const voice = (language: "en" | "es", units: "us" | "si", name = "Slip bay, river door") => ({
  language,
  units,
  zoneName: () => name,
  clock: () => "Wed 03:10",
});
const full: AlarmFacts = {
  expectedAtMs: 1,
  chance: 0.637,
  measured: 1.11,
  limit: 3,
  unit: "K",
  about: "slip-door/slab detached",
};
const alarm = (kind: AlarmKind, facts: Partial<AlarmFacts> = {}, zones: readonly string[] = ["slip"]) =>
  ({ kind, state: "open", zones, facts: { ...NO_FACTS, ...facts } }) as const;

describe.each(ALARM_KINDS)("%s", (kind) => {
  it.each(["en", "es"] as const)("in %s fits, whatever is known of it and however long names are", (language) => {
    for (const units of ["us", "si"] as const)
      for (const facts of [{}, full, { ...full, about: "x".repeat(300), unit: "Cel" }])
        for (const zones of [[], ["slip"], ["slip", "dock", "ramp"]])
          for (const state of ["open", "cleared"] as const) {
            const { title, body } = sayAlarm(
              { ...alarm(kind, facts, zones), state },
              voice(language, units, "Ñ".repeat(200)),
            );
            expect([...title].length).toBeLessThanOrEqual(TITLE_LONGEST);
            expect([...body].length).toBeLessThanOrEqual(BODY_LONGEST);
            expect(title.length).toBeGreaterThan(3);
            expect(`${title} ${body}`).not.toMatch(/null|undefined|NaN|\d K\b|safe|guarantee|segur|garant/i);
          }
  });

  it("says another sentence in Spanish, and nothing is cut off with common names", () => {
    const [en, es] = (["en", "es"] as const).map((language) => sayAlarm(alarm(kind, full), voice(language, "us")));
    expect(en).not.toEqual(es);
    expect(`${en?.body}${es?.body}${en?.title}${es?.title}`).not.toContain("…");
  });
});

describe("numbers", () => {
  // 3 K is 5.4 °F and 10 °C is 50 °F: NIST SP 811.
  it("are in the person's system first, differences never with the 32 of Fahrenheit", () => {
    expect(sayAlarm(alarm("margin-below", full), voice("en", "us")).body).toContain(
      "Slab 2.0 °F (1.1 °C) above dew point, limit 5.4 °F (3.0 °C).",
    );
    expect(sayAlarm(alarm("margin-below", full), voice("es", "si")).body).toContain("límite 3.0 °C (5.4 °F)");
    const cold = { ...full, measured: 10, limit: 12, unit: "Cel" };
    expect(sayAlarm(alarm("cold-now", cold), voice("en", "us")).body).toContain(
      "Slab 50 °F (10.0 °C), least 54 °F (12.0 °C)",
    );
  });

  it("a chance is said in steps of five, a margin of nothing without a minus sign", () => {
    expect(sayAlarm(alarm("margin-ahead", full), voice("en", "us")).body).toContain("Chance 65 %.");
    expect(sayAlarm(alarm("condensing", { ...full, measured: -0.01 }), voice("en", "si")).body).toContain(
      "margin 0.0 °C",
    );
  });

  it("names the worst zone and how many more, and says when it is over", () => {
    expect(sayAlarm(alarm("heat-lost", {}, ["a", "b", "c"]), voice("en", "us", "Dock")).title).toBe(
      "Dock and 2 more: the heat has gone off",
    );
    expect(sayAlarm({ ...alarm("heat-lost"), state: "cleared" }, voice("es", "us", "Dock")).title).toBe(
      "Pasó: Dock: se apagó el calor",
    );
  });
});
