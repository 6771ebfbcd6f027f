// Alarms in the running server: after each judging and each tick the machine goes one moment on, is kept, and is told.
import { type AlarmBody, type AlarmStepBody, bodyFromAlarm, bodyFromStep } from "#contract/alarm.ts";
import { topicOf } from "#contract/topics.ts";
import { reportOf } from "#core/alarm/causes.ts";
import {
  type AlarmAnswer,
  type AlarmEvent,
  type AlarmsState,
  answerAlarm,
  NO_ALARMS,
  shownSigns,
  standingAlarms,
  stepAlarms,
} from "#core/alarm/machine.ts";
import { type ServerMoment, type ZoneMoment, zoneMomentOf } from "#core/alarm/moment.ts";
import type { Judged } from "#core/judge/judged.ts";
import { createMomentMaker } from "./alarm-moment.ts";
import type { AlarmTeller, ChannelWatch } from "./alarm-teller.ts";
import type { Moments } from "./moments.ts";
import type { LiveStore } from "./ports.ts";
import type { Sites } from "./sites.ts";

/** Judgings that follow each other are one moment, ms of wall time: a packet wakes every zone that it speaks for. */
const GATHER_MS = 500;
/** A look at a long site takes tens of ms, and in every half second some zone of it was judged: it takes a twentieth of them. */
const REST_SHARE = 20;
const LONGEST_REST_MS = 5000;
/** The machine is kept this often while it only counts minutes, by the site's clock. */
const KEEP_EVERY_MS = 60_000;

export interface LiveAlarmStore {
  machine(site: string): unknown;
  keep(
    site: string,
    atMs: number,
    machine: object,
    events: readonly { readonly alarm: AlarmBody; readonly step: AlarmStepBody }[],
  ): void;
}

export interface AlarmParts {
  readonly sites: Sites;
  readonly store: Pick<LiveStore, "readings"> & { readonly alarms: LiveAlarmStore };
  readonly moments: Moments;
  readonly server: () => Omit<ServerMoment, "channels">;
  readonly channels: () => ChannelWatch | null;
  readonly teller: () => AlarmTeller | null;
  readonly stream: { publish(site: string, event: "alarm", key: string, body: AlarmBody): void };
  readonly mqtt: { publish(topic: string, body: string, retain: boolean): void };
  readonly count: (name: string) => void;
  readonly failed: (site: string, doing: string, error: unknown) => void;
}

interface Machine {
  state: AlarmsState;
  keptMs: number;
  readonly zones: Map<string, ZoneMoment>;
}

interface Kept {
  readonly version: 1;
  readonly state: AlarmsState;
}

function stateFrom(kept: unknown): AlarmsState {
  const found = kept as Partial<Kept> | null;
  return found?.version === 1 && found.state !== undefined ? found.state : NO_ALARMS;
}

export function createAlarms(parts: AlarmParts) {
  const { sites, store, moments, stream, mqtt, count, failed } = parts;
  const machines = new Map<string, Machine>();
  const makeMoment = createMomentMaker(store);
  const waiting = new Set<string>();
  let timer: NodeJS.Timeout | null = null;
  let gatherMs = GATHER_MS;

  function machineOf(site: string): Machine {
    const known = machines.get(site);
    if (known !== undefined) return known;
    let state = NO_ALARMS;
    try {
      state = stateFrom(store.alarms.machine(site));
    } catch (error) {
      failed(site, "reading its alarms", error);
    }
    const machine = { state, keptMs: Number.NEGATIVE_INFINITY, zones: new Map<string, ZoneMoment>() };
    machines.set(site, machine);
    return machine;
  }

  /** Each of these costs itself only: a store that fails must not keep people from hearing of it. */
  function attempt(site: string, doing: string, work: () => void): void {
    try {
      work();
    } catch (error) {
      failed(site, doing, error);
    }
  }

  function hand(site: string, machine: Machine, events: readonly AlarmEvent[], nowMs: number): void {
    const bodies = events.map(({ alarm, step }) => ({ alarm: bodyFromAlarm(alarm), step: bodyFromStep(step) }));
    if (bodies.length > 0 || nowMs - machine.keptMs >= KEEP_EVERY_MS) {
      const kept: Kept = { version: 1, state: machine.state };
      attempt(site, "keeping its alarms", () => store.alarms.keep(site, nowMs, kept, bodies));
      machine.keptMs = nowMs;
    }
    for (const { alarm, step } of bodies) {
      count(`alarmSteps.${step.step}`);
      attempt(site, "telling an alarm", () => stream.publish(site, "alarm", alarm.id, alarm));
      attempt(site, "publishing an alarm", () =>
        mqtt.publish(topicOf({ kind: "alarm", site }), JSON.stringify(alarm), false),
      );
      attempt(site, "handing an alarm on", () => parts.teller()?.tell(site, alarm, step));
    }
  }

  function step(siteId: string): void {
    const site = sites.get(siteId);
    if (site === null) return;
    const machine = machineOf(siteId);
    const nowMs = moments.now();
    attempt(siteId, "looking for alarms", () => {
      const server = { ...parts.server(), channels: parts.channels()?.failing(siteId) ?? null };
      const moment = makeMoment.of(site, [...machine.zones.values()], server, nowMs);
      const known = new Set(moment.knownZones);
      for (const zone of machine.zones.keys()) if (!known.has(zone)) machine.zones.delete(zone);
      const zones = moment.zones.filter(({ zone }) => known.has(zone));
      const report = reportOf({ ...moment, zones }, shownSigns(machine.state));
      const { state, events } = stepAlarms(siteId, machine.state, report, nowMs);
      machine.state = state;
      hand(siteId, machine, events, nowMs);
    });
  }

  function stepWaiting(): void {
    timer = null;
    const due = [...waiting];
    waiting.clear();
    const beganMs = performance.now();
    for (const site of due) step(site);
    gatherMs = Math.max(GATHER_MS, Math.min(REST_SHARE * (performance.now() - beganMs), LONGEST_REST_MS));
  }

  return {
    /** A zone was judged: its site is looked at in a moment. */
    judged(siteId: string, zoneId: string, judged: Judged): void {
      const zone = sites.get(siteId)?.zone(zoneId, moments.now()) ?? null;
      if (zone === null) return;
      const { zones } = machineOf(siteId);
      zones.set(zoneId, zoneMomentOf(zone, judged, zones.get(zoneId) ?? null));
      waiting.add(siteId);
      timer ??= setTimeout(stepWaiting, gatherMs);
    },

    /** Silence is an input: every minute all sites are looked at. */
    tick(): void {
      if (timer !== null) clearTimeout(timer);
      timer = null;
      waiting.clear();
      for (const { id } of sites.all()) step(id);
    },

    answer(site: string, id: string, answer: AlarmAnswer): AlarmBody | null {
      const machine = machineOf(site);
      const nowMs = moments.now();
      const answered = answerAlarm(machine.state, id, answer, nowMs);
      if (answered === null) return null;
      machine.state = answered.state;
      hand(site, machine, answered.events, nowMs);
      return this.standing(site).find((alarm) => alarm.id === id) ?? null;
    },

    /** Those that stand now, newest first. */
    standing: (site: string): AlarmBody[] => standingAlarms(machineOf(site).state).map(bodyFromAlarm),

    close(): void {
      if (timer !== null) clearTimeout(timer);
      timer = null;
      for (const [site, machine] of machines) {
        machine.keptMs = Number.NEGATIVE_INFINITY;
        hand(site, machine, [], moments.now());
      }
    },
  };
}
export type Alarms = ReturnType<typeof createAlarms>;
