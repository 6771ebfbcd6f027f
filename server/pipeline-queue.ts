// The queue of zones to judge: one packet and its neighbours give one look, and zones take turns with everything else.
export interface ZoneRef {
  readonly site: string;
  readonly zone: string;
}

export interface JudgeQueue {
  /** Looks at the zone soon; `sinceMs` is when the packet for it arrived (wall time). */
  heard(zone: ZoneRef, sinceMs: number): void;
  /** Judges the zone soon. */
  wake(zone: ZoneRef): void;
  /**
   * Judges the zone in the round of the minute, `inMs` from now: when nothing else waits. Who comes later must not be due
   * earlier; a zone that waits already keeps its place.
   */
  round(zone: ZoneRef, inMs?: number): void;
  /** Judges the zone at the next turn and resolves after that. */
  now(zone: ZoneRef): Promise<void>;
  /** Lets go of what it remembers of zones whose key is not among these. */
  forgetOthers(known: ReadonlySet<string>): void;
  /** Zones whose turn has come, or of which something was heard. */
  waiting(): number;
  close(): void;
}

export const keyOf = ({ site, zone }: ZoneRef): string => `${site}/${zone}`;

export interface QueueWork {
  /** False where the zone must be judged whole. Must not throw. */
  readonly look: (zone: ZoneRef, sinceMs: number | null) => boolean;
  /** Must not throw. */
  readonly judge: (zone: ZoneRef, sinceMs: number | null) => void;
  /** True where a look was not enough merely because the judging before it is too old. Must not throw. */
  readonly isAged?: (zone: ZoneRef) => boolean;
  /** True where a zone was judged so lately that its turn of the minute can be left out. Must not throw. */
  readonly isFresh?: (zone: ZoneRef) => boolean;
}

/** Packets of one node arrive within this, ms: a look costs little. */
const LOOK_GATHER_MS = 50;
/** Packets of one round arrive within this, and no zone is judged more often for them. A call is due within a second. */
const GATHER_MS = 150;
/**
 * Where packet after packet needs a whole judging (a node brings what it buffered), they are gathered for so long, ms: with
 * a few dozen such zones judgings would else take the time in which packets land.
 */
const LONGEST_GATHER_MS = 600;
/** So many packets for a zone before its first look: a node brings what it buffered, and the first judging gathers too. */
const FLOOD_PACKETS = 20;
/** Where nothing was heard of any zone for so long, ms, the flood is over, and nobody gathers longer than for one packet. */
const QUIET_MS = 100;
/** Of a turn for looks at least, ms; beside whole judgings as much as the last of them took. */
const LOOKS_MS = 10;
/**
 * The round of the minute waits for all else, but where it waited so long, ms, each fourth judging is its own: silence is an
 * input, also on a server that has too much to do. A zone that is heard has asked for itself by then.
 */
const ROUND_PATIENCE_MS = 30_000;
const ROUND_EVERY = 4;
/**
 * Where a turn came late, since packets without end land between two of them, it takes more than one zone that they speak
 * for: for this share of the time that it waited, and no longer than that, ms.
 */
const LATE_SHARE = 0.5;
const LONGEST_TURN_MS = 100;

interface Waiting {
  readonly zone: ZoneRef;
  dueMs: number;
  /** Due then already if all is quiet. */
  quietDueMs: number;
  sinceMs: number | null;
  /** Heard of it while it waits. */
  packets: number;
  /** Judged whole: something else than readings may have changed. */
  whole: boolean;
  /** A look was not enough. */
  looked: boolean;
  /** It was not, and nothing tells that anything changed. */
  aged: boolean;
  readonly told: (() => void)[];
}

export function createJudgeQueue({ look, judge, isAged, isFresh }: QueueWork, wallMs: () => number): JudgeQueue {
  /** Zones of which something was heard, and those whose turn it merely is: a thousand of these must not keep a packet waiting. */
  const soon = new Map<string, Waiting>();
  /** In the order in which they are due. */
  const round = new Map<string, { readonly zone: ZoneRef; readonly dueMs: number }>();
  /** When a zone was judged whole, and for how long packets are gathered after that. */
  const wholes = new Map<string, { readonly atMs: number; readonly gatherMs: number }>();
  let timer: NodeJS.Timeout | null = null;
  /** When the timer rings. */
  let timerMs = Number.POSITIVE_INFINITY;
  let turn: NodeJS.Immediate | null = null;
  let closed = false;
  /** When a packet was heard last, of whichever zone. */
  let heardMs = Number.NEGATIVE_INFINITY;
  /** Since when the next turn is asked for. */
  let askedMs = 0;
  /** How long the whole judgings of the last turn took. */
  let lastMs = 0;
  let wasForSomebody = false;
  let wasChanged = false;
  let sinceRound = 0;

  const dueOf = ({ dueMs, quietDueMs }: Waiting): number => Math.min(dueMs, Math.max(quietDueMs, heardMs + QUIET_MS));
  /** Asks for a turn at `dueMs`, or for an earlier one that is asked for already. */
  const planFor = (dueMs: number): void => {
    const isLater = dueMs >= timerMs && dueMs > wallMs();
    if (closed || turn !== null || isLater) return;
    if (timer !== null) clearTimeout(timer);
    timer = null;
    timerMs = Number.POSITIVE_INFINITY;
    const inMs = dueMs - wallMs();
    if (inMs <= 0) {
      askedMs = wallMs();
      turn = setImmediate(lastMs === 0 ? next : afterLanding);
    } else if (inMs < Number.POSITIVE_INFINITY) {
      timerMs = dueMs;
      timer = setTimeout(plan, inMs);
    }
  };
  const plan = (): void => {
    timerMs = Number.POSITIVE_INFINITY;
    let dueMs = Number.POSITIVE_INFINITY;
    for (const [, first] of round) {
      dueMs = first.dueMs;
      break;
    }
    for (const waiting of soon.values()) dueMs = Math.min(dueMs, dueOf(waiting));
    planFor(dueMs);
  };
  /** What was read in this turn of the loop lands in it after us: after a whole judging we let it land first. */
  const afterLanding = (): void => {
    turn = setImmediate(next);
  };
  const putRound = (zone: ZoneRef, dueMs: number): void => {
    const key = keyOf(zone);
    if (!round.has(key)) round.set(key, { zone, dueMs });
  };

  type Whole = Pick<Waiting, "zone" | "sinceMs" | "whole" | "packets">;
  const judgeWhole = (key: string, { zone, sinceMs, whole, packets }: Whole): void => {
    const before = wholes.get(key) ?? { atMs: Number.NEGATIVE_INFINITY, gatherMs: 0 };
    const goesOn = wallMs() <= before.atMs + 2 * before.gatherMs || packets >= FLOOD_PACKETS;
    judge(zone, sinceMs);
    const afterPacket = goesOn ? LONGEST_GATHER_MS : GATHER_MS;
    // Where no packet asked for it, the next one need not wait: it may do with a look.
    const afterOther = goesOn ? before.gatherMs : 0;
    wholes.set(key, { atMs: wallMs(), gatherMs: sinceMs !== null && !whole ? afterPacket : afterOther });
    round.delete(key);
  };
  const judgeWaiting = (key: string, waiting: Waiting): void => {
    soon.delete(key);
    judgeWhole(key, waiting);
    for (const tell of waiting.told) tell();
  };
  /** Takes looks that are due until `untilMs`. True where some are left. */
  const takeLooks = (untilMs: number): boolean => {
    const nowMs = wallMs();
    for (const [key, waiting] of soon) {
      if (waiting.whole || waiting.looked || waiting.dueMs > nowMs) continue;
      if (wallMs() >= untilMs) return true;
      if (look(waiting.zone, waiting.sinceMs)) {
        soon.delete(key);
        continue;
      }
      waiting.looked = true;
      waiting.aged = isAged?.(waiting.zone) === true;
      const { atMs, gatherMs } = wholes.get(key) ?? { atMs: Number.NEGATIVE_INFINITY, gatherMs: 0 };
      waiting.quietDueMs = Math.max(waiting.dueMs, atMs + Math.min(gatherMs, GATHER_MS));
      const floodMs = waiting.packets < FLOOD_PACKETS ? 0 : LONGEST_GATHER_MS - LOOK_GATHER_MS;
      waiting.dueMs = Math.max(waiting.dueMs + floodMs, atMs + gatherMs);
    }
    return false;
  };
  /** Of those who wait for a whole judging, whoever is first of each kind. */
  const firstWholes = (): { somebody?: [string, Waiting]; changed?: [string, Waiting]; aged?: [string, Waiting] } => {
    const nowMs = wallMs();
    const first: ReturnType<typeof firstWholes> = {};
    for (const entry of soon) {
      const [, { whole, looked, aged, told, dueMs }] = entry;
      if ((!whole && !looked) || dueOf(entry[1]) > nowMs) continue;
      const kind = told.length > 0 ? "somebody" : aged && !whole ? "aged" : "changed";
      if (dueMs < (first[kind]?.[1].dueMs ?? Number.POSITIVE_INFINITY)) first[kind] = entry;
    }
    return first;
  };
  const firstOfRound = (): { readonly zone: ZoneRef; readonly dueMs: number } | null => {
    for (const [key, one] of round) {
      if (one.dueMs > wallMs()) return null;
      if (isFresh?.(one.zone) !== true) return one;
      round.delete(key);
    }
    return null;
  };
  const judgeRound = ({ zone }: { readonly zone: ZoneRef }): void => {
    sinceRound = 0;
    judgeWhole(keyOf(zone), { zone, sinceMs: null, whole: true, packets: 0 });
  };
  /**
   * Judges one zone whole, if one waits: for somebody who waits for the answer and for news by turns, else for the minute. Of
   * news too those that change something and those that only ask anew: a server with too much to do has many of these.
   */
  const takeWhole = (looksLeft: boolean): void => {
    const { somebody, changed, aged } = firstWholes();
    const ofRound = firstOfRound();
    const news = wasChanged ? (aged ?? changed) : (changed ?? aged);
    const one = wasForSomebody ? (news ?? somebody) : (somebody ?? news);
    const patientMs = ofRound === null ? 0 : wallMs() - ofRound.dueMs;
    sinceRound += 1;
    if (ofRound !== null && patientMs >= ROUND_PATIENCE_MS && sinceRound >= ROUND_EVERY) return judgeRound(ofRound);
    wasForSomebody = one !== undefined && one === somebody;
    if (!wasForSomebody) wasChanged = one !== undefined && one === changed;
    if (one !== undefined) judgeWaiting(...one);
    else if (ofRound !== null && !looksLeft) judgeRound(ofRound);
  };
  const newsOfPacket = (): boolean => {
    const { changed, aged } = firstWholes();
    return [changed, aged].some((entry) => (entry?.[1].sinceMs ?? null) !== null);
  };
  /** Looks that are due, and one zone whole, mostly: a judging takes tens of milliseconds, and readings must land in between. */
  const next = (): void => {
    turn = null;
    const startMs = wallMs();
    const lateMs = Math.min((startMs - askedMs) * LATE_SHARE, LONGEST_TURN_MS);
    const looksLeft = takeLooks(startMs + Math.max(LOOKS_MS, lastMs, lateMs));
    const wholeFromMs = wallMs();
    takeWhole(looksLeft);
    while (!closed && wallMs() < startMs + lateMs && newsOfPacket()) takeWhole(true);
    lastMs = wallMs() - wholeFromMs;
    plan();
  };
  const put = (zone: ZoneRef, dueMs: number, sinceMs: number | null, whole: boolean): Waiting => {
    const key = keyOf(zone);
    const fresh = { packets: 0, looked: false, aged: false, told: [] };
    const waiting = soon.get(key) ?? { zone, dueMs, quietDueMs: dueMs, sinceMs, whole, ...fresh };
    // One that a look was not enough for has its time already.
    if (whole || !waiting.looked) waiting.dueMs = Math.min(waiting.dueMs, dueMs);
    waiting.sinceMs ??= sinceMs;
    waiting.whole ||= whole;
    soon.set(key, waiting);
    planFor(waiting.dueMs);
    return waiting;
  };

  return {
    heard(zone, sinceMs) {
      heardMs = wallMs();
      put(zone, heardMs + LOOK_GATHER_MS, sinceMs, false).packets += 1;
    },
    wake: (zone) => void put(zone, wallMs() + GATHER_MS, null, true),
    round(zone, inMs = 0) {
      if (soon.get(keyOf(zone))?.whole === true) return;
      const dueMs = wallMs() + inMs;
      putRound(zone, dueMs);
      planFor(dueMs);
    },
    now: (zone) =>
      closed ? Promise.resolve() : new Promise((resolve) => put(zone, wallMs(), null, true).told.push(resolve)),
    forgetOthers(known) {
      for (const key of wholes.keys()) if (!known.has(key)) wholes.delete(key);
      for (const key of round.keys()) if (!known.has(key)) round.delete(key);
    },
    waiting() {
      const nowMs = wallMs();
      let due = 0;
      for (const { dueMs } of round.values()) if (dueMs <= nowMs) due += 1;
      return soon.size + due;
    },
    close() {
      closed = true;
      if (timer !== null) clearTimeout(timer);
      if (turn !== null) clearImmediate(turn);
      for (const { told } of soon.values()) for (const tell of told) tell();
      soon.clear();
      round.clear();
    },
  };
}
