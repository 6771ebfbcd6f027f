// Alarms over whole logs: random nights and the nights of the cases say the same each time they are played, and no
// sentence fails them.
import { describe, expect, it } from "vitest";
import { reportOf } from "#core/alarm/causes.ts";
import { type AlarmEvent, type AlarmsState, NO_ALARMS, shownSigns, stepAlarms } from "#core/alarm/machine.ts";
import { type ZoneMoment, zoneMomentOf } from "#core/alarm/moment.ts";
import { sayAlarm } from "#core/alarm/say.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { zonesAt } from "#core/zone/zones.ts";
import { momentAt } from "../../support/alarm-moments.ts";
import { readCase } from "../../support/cases.ts";
import { HOUR_MS, MINUTE_MS } from "../../support/night-log.ts";
import { randomNight } from "../../support/random-night.ts";

function played(log: SiteLog, fromMs: number, toMs: number, stepMin: number): AlarmEvent[] {
  let state: AlarmsState = NO_ALARMS;
  const zones = new Map<string, ZoneMoment>();
  const events: AlarmEvent[] = [];
  for (let atMs = fromMs; atMs <= toMs; atMs += stepMin * MINUTE_MS) {
    for (const zone of zonesAt(log, atMs))
      zones.set(zone.id, zoneMomentOf(zone, judgeZone(log, zone.id, atMs), zones.get(zone.id) ?? null));
    const moment = momentAt(atMs, [...zones.values()], { site: log.site });
    const stepped = stepAlarms(log.site, state, reportOf(moment, shownSigns(state)), atMs);
    state = JSON.parse(JSON.stringify(stepped.state)) as AlarmsState;
    events.push(...stepped.events);
  }
  return events;
}

const voice = (language: "en" | "es") => ({
  language,
  units: "us" as const,
  zoneName: (zone: string) => zone,
  clock: (atMs: number) => new Date(atMs).toISOString().slice(11, 16),
});

describe("a log played twice", () => {
  it.each([3, 21])("random night %i gives the same alarms with the same ids", (seed) => {
    const { log, nowMs } = randomNight(seed);
    const once = played(log, nowMs - 3 * HOUR_MS, nowMs, 30);
    expect(played(log, nowMs - 3 * HOUR_MS, nowMs, 30)).toEqual(once);
    for (const { alarm } of once)
      expect(sayAlarm(alarm, voice("es")).title).not.toBe(sayAlarm(alarm, voice("en")).title);
  });

  it("case 46: the window that closes tonight is told before it does", () => {
    const { log, ask } = readCase("46.json");
    const atMs = ask[0]?.atMs ?? 0;
    const events = played(log, atMs - 3 * HOUR_MS, atMs + HOUR_MS, 20);
    expect(events.filter(({ step }) => step.step === "raised").map(({ alarm }) => alarm.kind)).toContain(
      "window-closing",
    );
  });
});
