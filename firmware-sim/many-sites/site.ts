// A site that exists by what its server would say only: itself, its calls, and now and then an alarm.
import type { AboutBody } from "#contract/about.ts";
import type { AlarmBody } from "#contract/alarm.ts";
import type { CallBody } from "#contract/call.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { topicOf } from "#contract/topics.ts";
import { uniform } from "../random.ts";
import { callAt, type NightOfCalls } from "./pool.ts";

export interface Word {
  readonly topic: string;
  readonly body: object;
  readonly retain: boolean;
}

/** A zone stays with a call for about so long, ms. */
const STAYS_MS = 40 * 60_000;
/** How many of the sites have an alarm that stands, of all. */
const RINGING = 0.12;

const KINDS = ["Hall", "Shed", "Depot", "Yard", "Loft", "Cellar", "Works", "Store"];
const PLACES = [
  "North",
  "River",
  "Hill",
  "Quay",
  "Mill",
  "Lime",
  "Ash",
  "Copper",
  "Birch",
  "Stone",
  "Gull",
  "Tern",
  "Fen",
];
const FLOORS = ["Bay", "Corridor", "Ramp", "Dock", "Cold room", "Stair head", "Plant room", "Wash place"];
const ZONES = ["Europe/Oslo", "America/Vancouver", "America/Chicago", "Europe/Madrid", "Pacific/Auckland", "UTC"];

const pick = <T>(list: readonly T[], share: number): T => list[Math.floor(share * list.length)] as T;

export class SaidSite {
  readonly id: string;
  private readonly name: string;
  private readonly timezone: string;
  private readonly zones: readonly { readonly id: string; readonly name: string }[];
  private readonly told = new Map<string, CallBody>();
  private alarm: AlarmBody | null = null;

  constructor(
    private readonly nights: readonly NightOfCalls[],
    private readonly seed: number,
    private readonly index: number,
    zoneCount: number,
    private readonly everyS: number,
  ) {
    this.id = `site-${String(index + 1).padStart(3, "0")}`;
    const drawn = (what: string) => uniform(seed, what, index);
    this.name = `${pick(PLACES, drawn("place"))} ${pick(KINDS, drawn("kind"))} ${index + 1}`;
    this.timezone = pick(ZONES, drawn("timezone"));
    this.zones = Array.from({ length: zoneCount }, (_, k) => ({
      id: `zone-${k + 1}`,
      name: `${pick(FLOORS, uniform(seed, `floor ${k}`, index))} ${k + 1}`,
    }));
  }

  /** What is to be said at `nowMs`: calls that changed, an alarm that came or went, and the site itself. */
  words(nowMs: number): Word[] {
    const words: Word[] = [];
    for (const { id } of this.zones) {
      const call = this.callOf(id, nowMs);
      if (this.told.get(id)?.at === call.at) continue;
      this.told.set(id, call);
      words.push({ topic: topicOf({ kind: "call", site: this.id, zone: id }), body: call, retain: true });
    }
    words.push(...this.ring(nowMs));
    words.push({ topic: topicOf({ kind: "about", site: this.id }), body: this.about(nowMs), retain: true });
    return words;
  }

  /** Steps through a night of its own, at a pace of its own, each step at a moment that stays. */
  private callOf(zone: string, nowMs: number): CallBody {
    const night = pick(this.nights, uniform(this.seed, `${zone} night`, this.index));
    const phaseMs = uniform(this.seed, `${zone} phase`, this.index) * STAYS_MS * night.length;
    const step = Math.floor((nowMs + phaseMs) / STAYS_MS);
    const call = night[step % night.length] as CallBody;
    return callAt(call, this.id, zone, Math.round(step * STAYS_MS - phaseMs));
  }

  private ring(nowMs: number): Word[] {
    const slot = Math.floor(nowMs / STAYS_MS);
    const rings = uniform(this.seed, `rings ${slot}`, this.index) < RINGING;
    const id = `a-${slot}`;
    const before = this.alarm;
    if (rings ? before?.id === id : before === null) return [];
    const words: Word[] = [];
    const topic = topicOf({ kind: "alarm", site: this.id });
    if (before !== null) {
      const at = isoFromMs(nowMs);
      words.push({ topic, body: { ...before, state: "cleared", clearedAt: at, changedAt: at }, retain: false });
    }
    this.alarm = rings ? this.alarmOf(id, nowMs) : null;
    if (this.alarm !== null) words.push({ topic, body: this.alarm, retain: false });
    return words;
  }

  private alarmOf(id: string, nowMs: number): AlarmBody {
    const at = isoFromMs(nowMs);
    const wakes = uniform(this.seed, `wakes ${id}`, this.index) < 0.3;
    const facts = { expectedAt: isoFromMs(nowMs + 2 * STAYS_MS), chance: 0.7, measured: 1.4, limit: 3, unit: "K" };
    return {
      id,
      site: this.id,
      kind: wakes ? "margin-ahead" : "node-silent",
      level: wakes ? "wake" : "tell",
      state: "open",
      zones: [(this.zones[0] as { id: string }).id],
      ...{ raisedAt: at, changedAt: at, clearedAt: null },
      ...{ acknowledgedBy: null, acknowledgedAt: null, snoozedUntil: null },
      facts: wakes
        ? { ...facts, about: null }
        : { expectedAt: null, chance: null, measured: 0.7, limit: null, unit: "h", about: "node-1" },
      history: [],
    };
  }

  private about(nowMs: number): AboutBody {
    return {
      site: this.id,
      name: this.name,
      timezone: this.timezone,
      at: isoFromMs(nowMs),
      everyS: this.everyS,
      publicUrl: `https://${this.id}.example`,
      zones: this.zones.map(({ id, name }) => {
        const call = this.told.get(id) ?? null;
        return { id, name, call: call?.call ?? null, callAt: call?.at ?? null };
      }),
      alarms: this.alarm === null ? [] : [this.alarm],
      alarmCount: this.alarm === null ? 0 : 1,
    };
  }
}
