// How long to wait before asking again.

/** Wait before the n-th try to reach the server again, ms: doubling to half a minute, spread so that phones do not come all at once. */
export function backoffMs(tries: number, random: number): number {
  return Math.min(30_000, 500 * 2 ** Math.min(tries, 10)) * (0.5 + random / 2);
}
