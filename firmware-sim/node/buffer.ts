// What a node keeps: rounds that wait to be sent, and the last few that were, which it repeats so that a lost packet heals.
import type { RoundOfReadings } from "./encode.ts";
import type { Value } from "./take.ts";

export interface Waiting {
  readonly uptimeMs: number;
  readonly values: readonly Value[];
}

/** Rounds of three days at one every five minutes. */
export const KEEP_MS = 72 * 3_600_000;
export const REPEATS = 3;

export class RoundBuffer {
  private waiting: Waiting[] = [];
  private sent: RoundOfReadings[] = [];
  /** Rounds that had to go because the buffer was full. */
  lost = 0;

  add(round: Waiting): void {
    this.waiting.push(round);
    const oldestMs = round.uptimeMs - KEEP_MS;
    while ((this.waiting[0]?.uptimeMs ?? oldestMs) < oldestMs) {
      this.waiting.shift();
      this.lost += 1;
    }
  }

  count(): number {
    return this.waiting.length;
  }

  /** The oldest rounds that wait, at most `most`. */
  peek(most: number): readonly Waiting[] {
    return this.waiting.slice(0, most);
  }

  /** Rounds that a pack repeats in front of its new ones: stamped once, never stamped again. */
  repeats(): readonly RoundOfReadings[] {
    return this.sent;
  }

  /** The pack left the node: its new rounds become those that the next packs repeat. */
  taken(rounds: readonly RoundOfReadings[]): void {
    this.waiting = this.waiting.slice(rounds.length);
    this.sent = [...this.sent, ...rounds].slice(-REPEATS);
  }
}
