// What a node keeps: rounds that wait to be sent, and the last few that were, which it repeats so that a lost packet heals.
import type { RoundOfReadings } from "./encode.ts";
import type { Value } from "./take.ts";

export interface Waiting {
  /** How often the node had started when it was measured: its monotonic counter begins anew each time. */
  readonly boot: number;
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

  /** `most`: rounds of three days. A ring in flash counts rounds, since it may not know the time. */
  constructor(private readonly most: number) {}

  add(round: Waiting): void {
    this.waiting.push(round);
    while (this.waiting.length > this.most) {
      this.waiting.shift();
      this.lost += 1;
    }
  }

  /** Power was lost: what waits lies in flash, what is repeated lay in memory. */
  forgetRepeats(): void {
    this.sent = [];
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

  /** The pack left the node with `count` rounds; those with a time become those that the next packs repeat. */
  taken(rounds: readonly RoundOfReadings[], count: number): void {
    this.waiting = this.waiting.slice(count);
    this.sent = [...this.sent, ...rounds].slice(-REPEATS);
  }
}
