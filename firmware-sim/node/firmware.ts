// The node's program: wakes, samples, stamps, packs. It knows nothing of MQTT or of the wall clock; both are handed in.
import type { Building } from "../building/building.ts";
import { encodePack, encodeUntimed, type RoundOfReadings, type UntimedRecord } from "./encode.ts";
import { KEEP_MS, RoundBuffer } from "./buffer.ts";
import { NodeClock } from "./clock.ts";
import { clockOffMs, faultAt, type SimNode } from "./spec.ts";
import { STARVED_BELOW_C, takeReadings, type Value } from "./take.ts";

export interface Pack {
  readonly records: readonly UntimedRecord[];
  /** New rounds with their time; none in a pack of a start that never learnt it. */
  readonly fresh: readonly RoundOfReadings[];
  /** New rounds in all. */
  readonly count: number;
}

/** Rounds that fit one packet of a small radio's memory. */
export const ROUNDS_PER_PACK = 12;

const TIME_EVERY_MS = 6 * 3_600_000;

export class Firmware {
  readonly buffer: RoundBuffer;
  /** How often it has started. */
  private boot = 1;
  /** One clock a start: each has its own counter. They lie in flash with the rounds. */
  private readonly clocks = new Map<number, NodeClock>();
  private rounds = 0;
  private last: readonly Value[] = [];
  private timeSetMs = Number.NEGATIVE_INFINITY;
  private aliveMs: number;
  private starved = false;

  constructor(
    readonly node: SimNode,
    private readonly seed: number,
    private readonly bootMs: number,
    private readonly skewMs = 0,
  ) {
    this.buffer = new RoundBuffer(Math.floor(KEEP_MS / (node.body.everyS * 1000)) + 1);
    this.clocks.set(this.boot, new NodeClock(bootMs, node.drift, skewMs));
    this.aliveMs = bootMs;
  }

  /** The clock of this start. */
  get clock(): NodeClock {
    return this.clocks.get(this.boot) as NodeClock;
  }

  /** The first moment at or after `fromMs` at which it samples. */
  nextSampleMs(fromMs: number): number {
    const everyMs = this.node.body.everyS * 1000;
    const phaseMs = this.bootMs + this.node.phaseS * 1000;
    return phaseMs + Math.max(0, Math.ceil((fromMs - phaseMs) / everyMs)) * everyMs;
  }

  isSilent(atMs: number): boolean {
    return this.starved || faultAt(this.node, "silent", atMs) || faultAt(this.node, "brown-out", atMs);
  }

  hasNetwork(atMs: number): boolean {
    return !this.isSilent(atMs) && !faultAt(this.node, "no-network", atMs);
  }

  /** Asks the network for the time, at once and then every six hours. */
  keepTime(atMs: number): void {
    if (!this.hasNetwork(atMs) || faultAt(this.node, "no-time", atMs) || atMs - this.timeSetMs < TIME_EVERY_MS) return;
    this.clock.set(atMs);
    this.timeSetMs = atMs;
  }

  /** Power is back: the counter begins anew, the time is not known, flash is as it was. */
  private restart(atMs: number): void {
    this.boot += 1;
    this.clocks.set(this.boot, new NodeClock(atMs, this.node.drift, this.skewMs));
    this.buffer.forgetRepeats();
    this.last = [];
    this.timeSetMs = Number.NEGATIVE_INFINITY;
    const waiting = new Set(this.buffer.peek(Number.POSITIVE_INFINITY).map(({ boot }) => boot));
    for (const boot of this.clocks.keys()) if (boot !== this.boot && !waiting.has(boot)) this.clocks.delete(boot);
  }

  private feelCold(atMs: number, building: Building): void {
    const { zone } = this.node.body;
    const airC = (zone === null ? building.outdoors() : building.roomOf(zone)).airC;
    const starved = faultAt(this.node, "weak-battery", atMs) && airC < STARVED_BELOW_C;
    if (this.starved && !starved) this.restart(atMs);
    this.starved = starved;
  }

  /** One round of readings into the buffer; the building must stand at `atMs`. */
  sample(atMs: number, building: Building): void {
    const index = this.rounds++;
    for (const fault of this.node.faults)
      if (fault.kind === "brown-out" && fault.toMs > this.aliveMs && fault.toMs <= atMs) this.restart(fault.toMs);
    this.aliveMs = atMs;
    this.feelCold(atMs, building);
    if (this.isSilent(atMs)) return;
    this.last = takeReadings(this.node, this.seed, building, this.bootMs, index, this.last);
    this.buffer.add({ boot: this.boot, uptimeMs: this.clock.uptimeMs(atMs), values: this.last });
  }

  /**
   * The next pack to send: what it repeats, then what waits of one start. Stamped by the counter of that start once it
   * has learnt the time. null when nothing waits, or this start may still learn it; one that is over and never did goes
   * out without a time.
   */
  nextPack(): Pack | null {
    const waiting = this.buffer.peek(ROUNDS_PER_PACK);
    const boot = waiting[0]?.boot;
    const clock = boot === undefined ? undefined : this.clocks.get(boot);
    if (boot === undefined || clock === undefined) return null;
    const rounds = waiting.filter((round) => round.boot === boot);
    const { id } = this.node.body;
    if (!clock.isSet()) {
      if (boot === this.boot) return null;
      return { records: encodeUntimed(id, boot, rounds), fresh: [], count: rounds.length };
    }
    const fresh = rounds.map(({ uptimeMs, values }) => {
      const utcMs = clock.utcMs(uptimeMs) ?? 0;
      return { atS: Math.round((utcMs + clockOffMs(this.node, utcMs)) / 1000), values };
    });
    const repeats = this.buffer.repeats();
    let written: Pack["records"] | null = null;
    return {
      // Written out for a network only: whoever plays past time looks at the rounds alone.
      get records() {
        return (written ??= encodePack(id, [...repeats, ...fresh]));
      },
      fresh,
      count: rounds.length,
    };
  }

  /** The pack was handed to the network. */
  sent(pack: Pack): void {
    this.buffer.taken(pack.fresh, pack.count);
  }
}
