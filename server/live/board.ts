// The board of a site, from what is remembered of its zones and heard of its nodes.
import type { BoardBody, BoardZoneBody, NodeStateBody } from "#contract/board.ts";
import type { CallBody } from "#contract/call.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import type { NodeBody, ZoneBody } from "#contract/zone.ts";
import type { Judged } from "#core/judge/judged.ts";
import { type Again, LOOK_WITHIN_MS } from "#core/judge/look-again.ts";
import { conditionsHistory, marginsOf } from "#core/zone/history.ts";
import type { ZoneNow } from "#core/zone/zones.ts";
import type { LiveSite, Trouble } from "./live-site.ts";
import type { Moments } from "./moments.ts";
import { pastOf, type Run, runsUntil, STEP_MS } from "./past.ts";
import type { Clock, LiveStore } from "./ports.ts";
import { revisedOf } from "./revised.ts";
import { splitOf } from "./split-of.ts";
import { PAST_MS } from "./window.ts";
import { type Margin, type Written, ZoneMemory } from "./zone-memory.ts";

const MINUTE_MS = 60_000;
/** How long a zone of which nothing changed is written the same: its strip of two days ends so much earlier. */
const SAME_MS = 10_000;
/** An outdoor temperature older than this is none. */
const OUTDOOR_MS = 30 * MINUTE_MS;
/** Margins of the past stand for as long as the judging that they come from. */
const MARGIN_MS = LOOK_WITHIN_MS;

export interface BoardParts {
  readonly store: LiveStore;
  readonly clock: Clock;
  readonly moments: Moments;
  /** Judges a zone that has no call yet; its memory has one afterwards. */
  readonly judgeFirst: (site: string, zone: string) => void;
}

interface WrittenNode {
  readonly heardMs: number | null;
  readonly trouble: Trouble | null;
  readonly state: NodeStateBody;
}

/** What a zone is written from, besides what is remembered of it. */
interface Of {
  readonly fromMs: number;
  readonly nowMs: number;
  readonly newestMs: number | null;
  readonly runs: readonly Run[];
}

export function zoneBodyOf({
  id,
  name,
  areaM2,
  pourM2PerH,
  people,
  system,
  base,
  outline,
  areaTyped,
}: ZoneNow): ZoneBody {
  return {
    id,
    name,
    areaM2,
    pourM2PerH,
    ...(people === undefined ? {} : { people }),
    system: [...system],
    base,
    ...(outline === undefined ? {} : { outline: outline.map(({ xM, yM }) => ({ xM, yM })) }),
    ...(areaTyped === undefined ? {} : { areaTyped }),
  };
}

/** Where the margins of the past begin: on a step, so that they stay the same until the next one. */
const pastFromMs = (nowMs: number): number => Math.floor(nowMs / STEP_MS) * STEP_MS - PAST_MS;

function marginFrom(fromMs: number, marginK: readonly (number | null)[]): Margin {
  return { fromMs, marginK: marginK.map((value) => (value === null ? null : Math.round(value * 100) / 100)) };
}

export class Board {
  private readonly memories = new Map<string, Map<string, ZoneMemory>>();
  private readonly nodes = new WeakMap<NodeBody, WrittenNode>();

  constructor(private readonly parts: BoardParts) {}

  memory(site: string, zone: string): ZoneMemory {
    const zones = this.memories.get(site) ?? new Map<string, ZoneMemory>();
    const known = zones.get(zone);
    if (known !== undefined) return known;
    const memory = new ZoneMemory(this.parts.store.calls.since(site, zone, this.parts.moments.now() - PAST_MS));
    this.memories.set(site, zones.set(zone, memory));
    return memory;
  }

  /** Lets go of zones that `isKnown` knows no more; what was shown of them stands in the store. */
  forgetOthers(isKnown: (site: string, zone: string) => boolean): void {
    for (const [site, zones] of this.memories)
      for (const zone of zones.keys()) if (!isKnown(site, zone)) zones.delete(zone);
  }

  show(site: string, zone: string, judged: Judged, call: CallBody): void {
    const memory = this.memory(site, zone);
    memory.show(judged, call);
    // Of a zone that nobody has looked at, nobody asks for the past.
    if (judged.line === undefined || memory.margin === null) return;
    // The judge has been through the same past just now.
    const { atMs } = judged.call;
    const fromMs = pastFromMs(atMs);
    memory.margin = marginFrom(fromMs, marginsOf(judged.line, fromMs, atMs, STEP_MS));
    memory.marginMadeMs = atMs;
  }

  look(site: string, zone: string, again: Again): void {
    this.memory(site, zone).look(again);
  }

  /** The call that was last recorded as shown. */
  recorded(site: string, zone: string): CallBody | null {
    return this.memory(site, zone).lastRecorded;
  }

  record(site: string, call: CallBody): void {
    this.parts.store.calls.append(site, call);
    this.memory(site, call.zone).record(call);
  }

  /** Something of the past was heard only now. */
  doubtFrom(site: string, zone: string, atMs: number): void {
    this.memory(site, zone).doubtFrom(atMs);
  }

  /** The same of readings or entries of a time at which calls were shown. */
  lateFrom(site: string, zone: string, atMs: number): void {
    this.memory(site, zone).lateFrom(atMs);
  }

  private marginOf(site: LiveSite, zone: ZoneNow, memory: ZoneMemory, nowMs: number): Margin {
    const fromMs = pastFromMs(nowMs);
    if (memory.margin?.fromMs === fromMs && nowMs - memory.marginMadeMs < MARGIN_MS) return memory.margin;
    try {
      const { marginK } = conditionsHistory(site.log, zone.id, fromMs, nowMs, STEP_MS, nowMs);
      memory.margin = marginFrom(fromMs, marginK);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      // A zone that cannot be judged has no past either; its call says why.
      memory.margin = { fromMs, marginK: [] };
    }
    memory.marginMadeMs = nowMs;
    return memory.margin;
  }

  /** `runs` of the server in the last two days, where they are known already. */
  zoneBody(site: LiveSite, zone: ZoneNow, runs: readonly Run[] | null = null): BoardZoneBody {
    const { moments, judgeFirst } = this.parts;
    const memory = this.memory(site.id, zone.id);
    if (memory.call === null) judgeFirst(site.id, zone.id);
    const nowMs = moments.now();
    const newestMs = site.newestMs(zone.id, nowMs);
    const isSame = (of: Written["of"]) =>
      of.changes === memory.changes &&
      of.recorded === memory.recorded.length &&
      of.hindsight === memory.hindsight.size &&
      of.revised === memory.revised.size &&
      of.siteMs === site.changedMs &&
      of.entries === site.journal.length &&
      of.newestMs === newestMs &&
      of.slot === Math.floor(nowMs / SAME_MS);
    if (memory.written !== null && isSame(memory.written.of)) return memory.written.body;
    const fromMs = nowMs - PAST_MS;
    memory.forgetBefore(fromMs);
    const body = this.zoneAnew(site, zone, memory, {
      ...{ fromMs, nowMs, newestMs },
      runs: runs ?? runsUntil(this.parts.store.runs, fromMs, nowMs),
    });
    const { changes, recorded, hindsight, revised } = memory;
    memory.written = {
      of: {
        ...{ changes, recorded: recorded.length, hindsight: hindsight.size, revised: revised.size },
        ...{ siteMs: site.changedMs, entries: site.journal.length, newestMs, slot: Math.floor(nowMs / SAME_MS) },
      },
      body,
    };
    return body;
  }

  private zoneAnew(
    site: LiveSite,
    zone: ZoneNow,
    memory: ZoneMemory,
    { fromMs, nowMs, newestMs, runs }: Of,
  ): BoardZoneBody {
    const margin = this.marginOf(site, zone, memory, nowMs);
    const shown = { recorded: memory.recorded, runs, fromMs, nowMs };
    const split = splitOf(site, zone);
    return {
      zone: zoneBodyOf(zone),
      call: memory.call as CallBody,
      past: pastOf({ recorded: memory.recorded, runs, hindsight: memory.hindsight, fromMs, nowMs }),
      revised: revisedOf(shown, memory.revised),
      pastMargin: { from: isoFromMs(margin.fromMs), stepS: STEP_MS / 1000, marginK: [...margin.marginK] },
      outlook: memory.outlook,
      marginLimitK: memory.marginLimitK,
      lastHeard: isoOrNull(newestMs),
      ...(split === null ? {} : { splitFrom: split }),
    };
  }

  /** The same body as long as it says the same: what was written of it stands. */
  nodeState(site: LiveSite, node: NodeBody): NodeStateBody {
    const heardMs = site.lastHeardMs.get(node.id) ?? null;
    const presence = site.presence.get(node.id) ?? "unknown";
    const batteryPct = site.find(node.id, "battery")?.values.at(-1) ?? null;
    const rssiDbm = site.find(node.id, "rssi")?.values.at(-1) ?? null;
    const trouble = site.troubleOf(node.id);
    const retired = site.lives.has(node.id);
    const known = this.nodes.get(node);
    if (
      known !== undefined &&
      known.heardMs === heardMs &&
      known.trouble === trouble &&
      known.state.presence === presence &&
      known.state.batteryPct === batteryPct &&
      known.state.rssiDbm === rssiDbm &&
      (known.state.retired === true) === retired
    )
      return known.state;
    const state: NodeStateBody = {
      node,
      presence,
      lastHeard: isoOrNull(heardMs),
      batteryPct,
      rssiDbm,
      quarantined: trouble?.count ?? 0,
      lastReason: trouble?.lastReason ?? null,
      ...(retired ? { retired } : {}),
    };
    this.nodes.set(node, { heardMs, trouble, state });
    return state;
  }

  private outdoorC(site: LiveSite, nowMs: number): number | null {
    const newest = site.record.nodes
      .filter(({ zone }) => zone === null)
      .flatMap(({ id }) => {
        const air = site.find(id, "air");
        const atMs = air?.atMs.at(-1);
        return air === null || atMs === undefined ? [] : [{ atMs, airC: air.values.at(-1) as number }];
      })
      .sort((a, b) => b.atMs - a.atMs)[0];
    return newest === undefined || nowMs - newest.atMs > OUTDOOR_MS ? null : newest.airC;
  }

  /** A zone without its past: hardly anything of it is made anew. */
  private zoneAhead(site: LiveSite, zone: ZoneNow, from: string): BoardZoneBody {
    const memory = this.memory(site.id, zone.id);
    if (memory.call === null) this.parts.judgeFirst(site.id, zone.id);
    const newestMs = site.newestMs(zone.id, this.parts.moments.now());
    return {
      zone: zoneBodyOf(zone),
      call: memory.call as CallBody,
      past: [],
      pastMargin: { from, stepS: STEP_MS / 1000, marginK: [] },
      outlook: memory.outlook,
      marginLimitK: memory.marginLimitK,
      lastHeard: isoOrNull(newestMs),
    };
  }

  /** `withPast`: of so many zones, the first, the past is in it too; left out = of all. */
  siteBody(site: LiveSite, withPast = Number.POSITIVE_INFINITY): BoardBody {
    const beganMs = this.parts.moments.now();
    // The present run is alive at the moment of each zone.
    const runs = runsUntil(this.parts.store.runs, beganMs - PAST_MS, Number.POSITIVE_INFINITY);
    const from = isoFromMs(beganMs);
    const zones = site
      .zones(beganMs)
      .map((zone, index) => (index < withPast ? this.zoneBody(site, zone, runs) : this.zoneAhead(site, zone, from)));
    const nowMs = this.parts.moments.now();
    return {
      site: site.record.site,
      at: isoFromMs(nowMs),
      pace: this.parts.clock.pace,
      zones,
      nodes: site.record.nodes.map((node) => this.nodeState(site, node)),
      outdoorC: this.outdoorC(site, nowMs),
    };
  }
}
