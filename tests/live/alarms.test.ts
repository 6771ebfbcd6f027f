// Alarms in the running server: kept over a restart, told when the store fails, listed and answered.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import type { AlarmBody, AlarmStepBody } from "#contract/alarm.ts";
import type { Judged } from "#core/judge/judged.ts";
import { createAlarmDesk } from "../../server/live/alarm-desk.ts";
import { type Alarms, createAlarms, type LiveAlarmStore } from "../../server/live/alarms.ts";
import type { AlarmPageWish } from "../../server/store/alarms-port.ts";
import type { Sites } from "../../server/live/sites.ts";
import { openStore } from "../../server/store/store.ts";
import { callOf, withMargin, zoneAt } from "../support/alarm-moments.ts";
import { NODE, NOON_MS, ZONE } from "../support/small-site.ts";

const MINUTE_MS = 60_000;
const folders: string[] = [];
afterEach(async () => {
  for (const folder of folders.splice(0)) await rm(folder, { recursive: true, force: true });
});

const site = {
  id: "dock",
  record: { site: { id: "dock" }, nodes: [NODE] },
  lives: new Map(),
  lastHeardMs: new Map(),
  zone: () => ZONE,
  zones: () => [ZONE],
  zonesOf: () => [ZONE.id],
  seriesOf: () => [],
  find: () => null,
};
const sites = { get: (id: string) => (id === "dock" ? site : null), all: () => [site] } as unknown as Sites;

interface World {
  nowMs: number;
  alarms: Alarms;
  told: string[];
  bodies: { alarm: AlarmBody; step: AlarmStepBody }[];
  failed: string[];
  mqtt: string[];
  judge(marginK: number | null): void;
  desk: ReturnType<typeof createAlarmDesk>;
}

type KeptStore = LiveAlarmStore & {
  page(site: string, wish: AlarmPageWish): AlarmBody[];
  find(site: string, id: string): AlarmBody | null;
};

function world(store: KeptStore, nowMs = NOON_MS): World {
  const moments = { now: () => it.nowMs, heard: () => it.nowMs, judged: () => it.nowMs, setBackMs: () => 0 };
  const it: World = {
    nowMs,
    told: [],
    bodies: [],
    failed: [],
    mqtt: [],
    judge(marginK: number | null) {
      const zone = zoneAt(ZONE.id, it.nowMs, { call: marginK === null ? withMargin(null) : withMargin(marginK) });
      const judged: Judged = {
        call: callOf(ZONE.id, it.nowMs, zone.call),
        watch: zone.watch,
        view: null,
        marginLimitK: 3,
      };
      it.alarms.judged("dock", ZONE.id, judged);
      it.alarms.tick();
    },
  } as unknown as World;
  it.alarms = createAlarms({
    sites,
    store: { alarms: store, readings: {} as never },
    moments,
    server: () => ({ sinceMs: NOON_MS, brokerDown: false, storeDown: false, disk: null, away: null }),
    channels: () => ({ failing: () => [] }),
    teller: () => ({
      tell(at, alarm, step) {
        it.told.push(`${at} ${step.step} ${alarm.kind} ${step.level}`);
        it.bodies.push({ alarm, step });
      },
    }),
    stream: { publish: () => undefined },
    mqtt: { publish: (topic, body) => void it.mqtt.push(`${topic} ${(JSON.parse(body) as AlarmBody).kind}`) },
    count: () => undefined,
    failed: (_site, doing) => void it.failed.push(doing),
  });
  it.desk = createAlarmDesk({ sites, moments, alarms: it.alarms, book: store });
  return it;
}

async function dataFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "nightslab-alarms-"));
  folders.push(folder);
  return folder;
}

function minutes(count: number, of: World, marginK: number | null): void {
  for (let minute = 0; minute < count; minute++) {
    of.nowMs += MINUTE_MS;
    of.judge(marginK);
  }
}

describe("a night with a restart", () => {
  it("says nothing twice, and goes on counting where it stopped", async () => {
    const folder = await dataFolder();
    const store = openStore(folder);
    const first = world(store.alarms);
    minutes(10, first, 2.2);
    expect(first.told).toEqual(["dock raised margin-below wake"]);
    expect(first.mqtt).toEqual(["nightslab/v1/dock/alarm margin-below"]);
    first.alarms.close();
    store.close();

    const again = openStore(folder);
    const second = world(again.alarms, first.nowMs);
    minutes(8, second, 2.2);
    expect(second.told).toEqual([]);
    minutes(8, second, 2.2);
    expect(second.told).toEqual(["dock escalated margin-below wake"]);
    expect(second.bodies[0]?.alarm.id).toBe(first.bodies[0]?.alarm.id);
    // Nothing known clears nothing; well for half an hour does.
    minutes(60, second, null);
    expect(second.told.some((each) => each.includes("cleared"))).toBe(false);
    minutes(32, second, 7);
    expect(second.told.at(-1)).toBe("dock cleared margin-below wake");
    const page = again.alarms.page("dock", { state: null, fromMs: null, before: null, limit: 10 });
    expect(page.map(({ state, kind }) => `${kind} ${state}`)).toEqual(["margin-below cleared"]);
    expect(page[0]?.history.map(({ step }) => step)).toEqual(
      second.bodies.at(-1)?.alarm.history.map(({ step }) => step),
    );
    again.close();
  });

  it("a store that fails, and a teller that throws, keep nobody else from hearing of it", () => {
    const broken: KeptStore = {
      machine: () => {
        throw new Error("no disk");
      },
      keep: () => {
        throw new Error("no disk");
      },
      page: () => [],
      find: () => null,
    };
    const one = world(broken);
    minutes(7, one, 2);
    expect(one.told).toEqual(["dock raised margin-below wake"]);
    expect(new Set(one.failed)).toEqual(new Set(["reading its alarms", "keeping its alarms"]));
  });
});

describe("the desk", () => {
  it("lists by pages, and answers what stands, with who and until when", async () => {
    const store = openStore(await dataFolder());
    const one = world(store.alarms);
    minutes(7, one, 2);
    const id = one.bodies[0]?.alarm.id ?? "";
    const wish = { state: null, fromMs: null, before: null, limit: 1 };
    expect(one.desk.alarms("dock", wish)).toMatchObject({
      ok: true,
      value: { alarms: [{ id, state: "open" }], before: id },
    });
    expect(one.desk.alarms("dock", { ...wish, before: id })).toMatchObject({
      ok: true,
      value: { alarms: [], before: null },
    });
    expect(one.desk.alarms("dock", { ...wish, fromMs: one.nowMs })).toMatchObject({ value: { alarms: [] } });
    expect(one.desk.alarms("dock", { ...wish, state: "cleared" })).toMatchObject({ value: { alarms: [] } });
    expect(one.desk.alarms("quay", wish)).toMatchObject({ ok: false, refusal: "missing" });

    expect(one.desk.acknowledgeAlarm("dock", "none", "Ida")).toMatchObject({ ok: false, refusal: "missing" });
    expect(one.desk.snoozeAlarm("dock", id, "Ida", one.nowMs)).toMatchObject({
      ok: false,
      faults: [{ field: "/untilAt" }],
    });
    expect(one.desk.snoozeAlarm("dock", id, "Ida", one.nowMs + 13 * 60 * MINUTE_MS)).toMatchObject({ ok: false });
    expect(one.desk.snoozeAlarm("dock", id, "Ida", one.nowMs + 30 * MINUTE_MS)).toMatchObject({
      value: { state: "snoozed", snoozedUntil: new Date(one.nowMs + 30 * MINUTE_MS).toISOString().replace(".000", "") },
    });
    expect(one.desk.acknowledgeAlarm("dock", id, "Ida")).toMatchObject({
      value: {
        state: "acknowledged",
        acknowledgedBy: "Ida",
        history: [{}, { step: "snoozed" }, { step: "acknowledged" }],
      },
    });
    expect(one.desk.alarms("dock", { ...wish, state: "acknowledged" })).toMatchObject({ value: { alarms: [{ id }] } });
    minutes(60, one, 2);
    expect(one.told.map((each) => each.split(" ")[1])).toEqual(["raised", "snoozed", "acknowledged"]);
    minutes(32, one, 7);
    expect(one.desk.acknowledgeAlarm("dock", id, "Bo")).toMatchObject({ ok: false, refusal: "conflict" });
    expect(one.desk.alarmBook.acknowledge("dock", id, "Bo")).toBe(false);
    store.close();
  });
});
