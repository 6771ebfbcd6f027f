// A token bucket: how long to wait until what was taken is paid for.
export interface Rate {
  readonly perS: number;
  /** What may be taken at once after a rest. */
  readonly burst: number;
}

export interface Bucket {
  /** Takes `amount`, also into debt; gives the ms until the debt is paid. */
  take(amount: number, nowMs: number): number;
}

export function createBucket({ perS, burst }: Rate, startMs: number): Bucket {
  let tokens = burst;
  let atMs = startMs;
  return {
    take(amount, nowMs) {
      tokens = Math.min(burst, tokens + ((nowMs - atMs) / 1000) * perS) - amount;
      atMs = nowMs;
      return tokens >= 0 ? 0 : (-tokens / perS) * 1000;
    },
  };
}
