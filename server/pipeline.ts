// The flow: message -> decode -> accept -> store -> conditions -> judge -> changed? -> stream, alarm, MQTT, journal of calls.
import type { BoardZoneBody } from "#contract/board.ts";
import { bodyFromCall, bodyFromConditions, type CallBody } from "#contract/call.ts";
import type { StreamBody } from "#contract/stream.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { topicOf } from "#contract/topics.ts";
import type { Judged } from "#core/judge/judged.ts";
import { type Again, LOOK_WITHIN_MS } from "#core/judge/look-again.ts";
import { isChanged, waitAfterError } from "./pipeline-changes.ts";
import { createJudgeQueue, keyOf, type ZoneRef } from "./pipeline-queue.ts";
import { isFresh, turnsOf } from "./pipeline-turns.ts";

interface Landed {
  readonly site: string;
  readonly node: string;
  readonly stored: readonly unknown[];
  readonly same: number;
  readonly refused: readonly { readonly reason: string }[];
}

/** What the flow is made of. Each part is an argument, so that the same flow runs in a test and in a time-lapse. */
export interface Ports<Message, Decoded, Accepted, L extends Landed> {
  readonly wallMs: () => number;
  readonly moments: { now(): number; judged(): number };
  readonly decode: (message: Message, nowMs: number) => Decoded;
  readonly accept: (decoded: Decoded, nowMs: number) => Accepted;
  /** Resolves when it is on the disk; `keep` is told in the same turn. */
  readonly land: (accepted: Accepted, keep: (landed: L) => void) => Promise<void>;
  /** The live log. Gives the zones that the readings speak for. */
  readonly keep: (landed: L) => readonly ZoneRef[];
  readonly judge: (zone: ZoneRef, atMs: number) => Judged;
  /** null where the zone must be judged. */
  readonly lookAgain: (zone: ZoneRef, again: Again, atMs: number) => Again | null;
  readonly board: {
    show(zone: ZoneRef, judged: Judged, call: CallBody): void;
    /** The call stands, with fresh numbers. */
    look(zone: ZoneRef, again: Again): void;
    /** The call that was last recorded. */
    recorded(zone: ZoneRef): CallBody | null;
    record(zone: ZoneRef, call: CallBody): void;
    zoneBody(zone: ZoneRef): BoardZoneBody | null;
    has(zone: ZoneRef): boolean;
    zones(): readonly ZoneRef[];
    /** Lets go of zones whose key is not among these. */
    forgetOthers(known: ReadonlySet<string>): void;
  };
  readonly stream: {
    publish<E extends "conditions" | "call" | "zone">(site: string, event: E, key: string, body: StreamBody<E>): void;
  };
  readonly mqtt: { publish(topic: string, body: string, retain: boolean): void };
  readonly alarms: { judged(zone: ZoneRef, judged: Judged): void };
  readonly count: (name: string, by?: number) => void;
  readonly lag: (ms: number) => void;
  readonly trouble: (zone: ZoneRef, doing: string, error: unknown) => void;
}

/** Past strip and outlook of an unchanged call are shown anew with each round of the minute, by the site's clock. */
const RENEW_MS = 45_000;
const MINUTE_MS = 60_000;

export function createPipeline<M, D, A, L extends Landed>(ports: Ports<M, D, A, L>) {
  const { moments, board, stream, mqtt, alarms, count } = ports;
  const renewedMs = new Map<string, number>();
  /** What the last judging of a zone, and the looks since, left for the next look. */
  const agains = new Map<string, Again>();
  /** When a zone was judged last, by the site's clock. */
  const judgedMs = new Map<string, number>();
  /** Zones whose call this run has published: a broker may have lost what an earlier run left there. */
  const published = new Set<string>();

  /** Why it could not be read, instead, if it could not: whoever sent it must not stop the server by that. */
  function acceptedOf(message: M): { readonly accepted: A } | Error {
    try {
      const decoded = ports.decode(message, moments.now());
      return { accepted: ports.accept(decoded, moments.now()) };
    } catch (error) {
      return error instanceof Error ? error : new Error(String(error));
    }
  }

  /** Resolves when everything of the message is on the disk; only then is it acknowledged. */
  function take(message: M): Promise<void> {
    const arrivedMs = ports.wallMs();
    count("messages");
    const read = acceptedOf(message);
    if (read instanceof Error) return Promise.reject(read);
    return ports.land(read.accepted, (landed) => {
      count("readingsStored", landed.stored.length);
      count("readingsSame", landed.same);
      for (const { reason } of landed.refused) count(`quarantined.${reason}`);
      for (const zone of ports.keep(landed)) queue.heard(zone, arrivedMs);
    });
  }

  /** True where the call stands with the readings of now: only its numbers are told. */
  function look(zone: ZoneRef, atMs: number): boolean {
    const known = agains.get(keyOf(zone));
    if (known === undefined) return false;
    const again = lookOrNull(zone, known, atMs);
    if (again === null) return false;
    count("looked");
    agains.set(keyOf(zone), again);
    board.look(zone, again);
    tellConditions(zone, { at: isoFromMs(atMs), conditions: bodyFromConditions(again.now.conditions) });
    return true;
  }

  function lookOrNull(zone: ZoneRef, known: Again, atMs: number): Again | null {
    try {
      return ports.lookAgain(zone, known, atMs);
    } catch (error) {
      ports.trouble(zone, "looking again", error);
      return null;
    }
  }

  function judge(zone: ZoneRef, atMs: number): void {
    agains.delete(keyOf(zone));
    judgedMs.set(keyOf(zone), atMs);
    const judged = judgeOrWait(zone, atMs);
    count("judged");
    // A zone that is gone is no trouble: it was split or removed while it waited for its turn.
    if (judged === null) return;
    const { again = null } = judged;
    if (again !== null) agains.set(keyOf(zone), again);
    const call = bodyFromCall(judged.call);
    const before = board.recorded(zone);
    board.show(zone, judged, call);
    attempt(zone, "alarming", () => alarms.judged(zone, judged));
    tellConditions(zone, call);
    if (isChanged(before, call)) tell(zone, call);
    else {
      if (!published.has(keyOf(zone))) publish(zone, call);
      if (atMs - (renewedMs.get(keyOf(zone)) ?? 0) >= RENEW_MS) renew(zone, atMs);
    }
  }

  function tellConditions(zone: ZoneRef, { at, conditions }: Pick<CallBody, "at" | "conditions">): void {
    attempt(zone, "telling", () =>
      stream.publish(zone.site, "conditions", zone.zone, { zone: zone.zone, at, conditions }),
    );
  }

  function judgeOrWait(zone: ZoneRef, atMs: number): Judged | null {
    if (!board.has(zone)) return null;
    try {
      return ports.judge(zone, atMs);
    } catch (error) {
      ports.trouble(zone, "judging", error);
      count("judgeErrors");
      return waitAfterError(zone.site, zone.zone, atMs, board.recorded(zone)?.pouring ?? false);
    }
  }

  /** Each of these costs itself only: whoever cannot be told must not keep the others from hearing it. */
  function tell(zone: ZoneRef, call: CallBody): void {
    count("callsChanged");
    attempt(zone, "recording", () => board.record(zone, call));
    attempt(zone, "telling", () => stream.publish(zone.site, "call", zone.zone, call));
    publish(zone, call);
    renew(zone, moments.now());
  }

  function publish(zone: ZoneRef, call: CallBody): void {
    published.add(keyOf(zone));
    attempt(zone, "publishing", () =>
      mqtt.publish(topicOf({ kind: "call", site: zone.site, zone: zone.zone }), JSON.stringify(call), true),
    );
  }

  function renew(zone: ZoneRef, atMs: number): void {
    renewedMs.set(keyOf(zone), atMs);
    attempt(zone, "telling", () => {
      const body = board.zoneBody(zone);
      if (body !== null) stream.publish(zone.site, "zone", zone.zone, body);
    });
  }

  function attempt(zone: ZoneRef, doing: string, work: () => void): void {
    try {
      work();
    } catch (error) {
      ports.trouble(zone, doing, error);
    }
  }

  const unjudgedMs = (zone: ZoneRef): number => moments.now() - (judgedMs.get(keyOf(zone)) ?? Number.NEGATIVE_INFINITY);
  const passed = (sinceMs: number | null) => {
    if (sinceMs !== null) ports.lag(ports.wallMs() - sinceMs);
  };
  const queue = createJudgeQueue(
    {
      look(zone, sinceMs) {
        const stands = look(zone, moments.judged());
        if (stands) passed(sinceMs);
        return stands;
      },
      judge(zone, sinceMs) {
        judge(zone, moments.judged());
        passed(sinceMs);
      },
      isAged: (zone) => unjudgedMs(zone) > LOOK_WITHIN_MS,
      isFresh: (zone) => isFresh(unjudgedMs(zone)),
    },
    ports.wallMs,
  );
  return {
    take,
    /**
     * Silence is an input: every minute all zones are judged, whatever was heard. `minuteMs`: how long a minute of the site's
     * clock takes, ms of wall time.
     */
    tick: (minuteMs: number) => {
      const zones = board.zones();
      const known = new Set(zones.map(keyOf));
      // What is kept of a zone that is gone would hold the log as it was.
      for (const kept of [agains, judgedMs, renewedMs, published])
        for (const key of kept.keys()) if (!known.has(key)) kept.delete(key);
      queue.forgetOthers(known);
      board.forgetOthers(known);
      for (const { zone, inMs } of turnsOf(zones, unjudgedMs)) queue.round(zone, (inMs / MINUTE_MS) * minuteMs);
    },
    wake: (zone: ZoneRef) => queue.wake(zone),
    /** Resolves when the zone has been judged with what is known by now. */
    judgeNow: (zone: ZoneRef) => queue.now(zone),
    judgeFirst: (zone: ZoneRef) => judge(zone, moments.judged()),
    renew: (zone: ZoneRef) => renew(zone, moments.now()),
    waiting: () => queue.waiting(),
    close: () => queue.close(),
  };
}
export type Pipeline = ReturnType<typeof createPipeline>;
