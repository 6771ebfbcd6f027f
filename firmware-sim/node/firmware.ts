// The node's program: wakes, samples, stamps, packs. It knows nothing of MQTT or of the wall clock; both are handed in.
import type { Building } from "../building/building.ts";
import { type RoundOfReadings, encodePack } from "./encode.ts";
import { RoundBuffer } from "./buffer.ts";
import { NodeClock } from "./clock.ts";
import { faultAt, type SimNode } from "./spec.ts";
import { takeReadings, type Value } from "./take.ts";
import type { SenmlRecord } from "#contract/senml-schema.ts";

export interface Pack {
  readonly records: readonly SenmlRecord[];
  readonly fresh: readonly RoundOfReadings[];
}

/** Rounds that fit one packet of a small radio's memory. */
export const ROUNDS_PER_PACK = 12;

const TIME_EVERY_MS = 6 * 3_600_000;

export class Firmware {
  readonly buffer = new RoundBuffer();
  readonly clock: NodeClock;
  private rounds = 0;
  private last: readonly Value[] = [];
  private timeSetMs = Number.NEGATIVE_INFINITY;

  constructor(
    readonly node: SimNode,
    private readonly seed: number,
    private readonly bootMs: number,
    skewMs = 0,
  ) {
    this.clock = new NodeClock(bootMs, node.drift, skewMs);
  }

  /** The first moment at or after `fromMs` at which it samples. */
  nextSampleMs(fromMs: number): number {
    const everyMs = this.node.body.everyS * 1000;
    const phaseMs = this.bootMs + this.node.phaseS * 1000;
    return phaseMs + Math.max(0, Math.ceil((fromMs - phaseMs) / everyMs)) * everyMs;
  }

  isSilent(atMs: number): boolean {
    return faultAt(this.node, "silent", atMs);
  }

  hasNetwork(atMs: number): boolean {
    return !this.isSilent(atMs) && !faultAt(this.node, "no-network", atMs);
  }

  /** Asks the network for the time, at once and then every six hours. */
  keepTime(atMs: number): void {
    if (!this.hasNetwork(atMs) || atMs - this.timeSetMs < TIME_EVERY_MS) return;
    this.clock.set(atMs);
    this.timeSetMs = atMs;
  }

  /** One round of readings into the buffer; the building must stand at `atMs`. */
  sample(atMs: number, building: Building): void {
    const index = this.rounds++;
    if (this.isSilent(atMs)) return;
    this.last = takeReadings(this.node, this.seed, building, this.bootMs, index, this.last);
    this.buffer.add({ uptimeMs: this.clock.uptimeMs(atMs), values: this.last });
  }

  /** The next pack to send: what it repeats, then what waits. null when nothing waits or the clock was never set. */
  nextPack(): Pack | null {
    if (!this.clock.isSet()) return null;
    const fresh: RoundOfReadings[] = [];
    for (const round of this.buffer.peek(ROUNDS_PER_PACK)) {
      const utcMs = this.clock.utcMs(round.uptimeMs);
      if (utcMs !== null) fresh.push({ atS: Math.round(utcMs / 1000), values: round.values });
    }
    if (fresh.length === 0) return null;
    return { records: encodePack(this.node.body.id, [...this.buffer.repeats(), ...fresh]), fresh };
  }

  /** The pack was handed to the network. */
  sent(pack: Pack): void {
    this.buffer.taken(pack.fresh);
  }
}
