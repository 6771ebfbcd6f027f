// Draws of one night: every choice by its name, so that a new choice does not move the others.
import { normal, uniform } from "../random.ts";

export interface Draw {
  /** Evenly spread in [0, 1). */
  u(name: string): number;
  between(name: string, low: number, high: number): number;
  /** Factor between 1/k and k, even in its logarithm. */
  factor(name: string, k: number): number;
  normal(name: string, sigma: number): number;
  chance(name: string, p: number): boolean;
  pick<T>(name: string, weighted: readonly (readonly [weight: number, value: T])[]): T;
}

/** Seed of one night of a study, so that neighbouring nights share nothing. */
export function nightSeed(seed: number, index: number): number {
  return Math.floor(uniform(seed, "night", index) * 2 ** 31);
}

export function drawOf(seed: number): Draw {
  const u = (name: string) => uniform(seed, `study/${name}`);
  return {
    u,
    between: (name, low, high) => low + (high - low) * u(name),
    factor: (name, k) => k ** (2 * u(name) - 1),
    normal: (name, sigma) => sigma * normal(seed, `study/${name}`),
    chance: (name, p) => u(name) < p,
    pick: (name, weighted) => {
      const total = weighted.reduce((sum, [weight]) => sum + weight, 0);
      let left = u(name) * total;
      for (const [weight, value] of weighted) {
        left -= weight;
        if (left < 0) return value;
      }
      const last = weighted.at(-1);
      if (last === undefined) throw new RangeError(`nothing to pick for "${name}"`);
      return last[1];
    },
  };
}
