// What charts need of readings of any age: some may stand in another program, and that may be away.
import type { Bucket } from "./ports.ts";

export interface Reached {
  readonly value: readonly Bucket[];
  /** Why older readings may be missing; null if none are. */
  readonly outOfReach: string | null;
}

export interface Reach {
  /** Readings taken at this time or later are all kept here. */
  localFromMs(): number;
  buckets(
    site: string,
    node: string,
    quantity: string,
    fromMs: number,
    stepMs: number,
    points: number,
  ): Promise<Reached>;
}
