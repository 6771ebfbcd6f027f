// Counters of the running server, and how long it takes from a packet to its call.
export interface Counters {
  add(name: string, by?: number): void;
  /** One packet was answered by a call after this many milliseconds of wall time. */
  lag(ms: number): void;
  all(): Readonly<Record<string, number>>;
}

const LAGS = 1000;

function quantile(ascending: readonly number[], share: number): number {
  return ascending[Math.max(0, Math.ceil(share * ascending.length) - 1)] ?? 0;
}

export function createCounters(): Counters {
  const counts = new Map<string, number>();
  const lags: number[] = [];
  let next = 0;
  return {
    add: (name, by = 1) => void counts.set(name, (counts.get(name) ?? 0) + by),
    lag(ms) {
      lags[next % LAGS] = ms;
      next += 1;
    },
    all() {
      const ascending = [...lags].sort((a, b) => a - b);
      const rounded = (ms: number) => Math.round(ms * 10) / 10;
      return {
        ...Object.fromEntries(counts),
        lagP50Ms: rounded(quantile(ascending, 0.5)),
        lagP99Ms: rounded(quantile(ascending, 0.99)),
      };
    },
  };
}
