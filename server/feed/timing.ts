// When a feed is asked next: politely, never all at the same second, and ever more rarely while it fails.

const MINUTE_MS = 60_000;
const FIRST_RETRY_MS = 5 * MINUTE_MS;
const LONGEST_RETRY_MS = 6 * 60 * MINUTE_MS;
/** A service that asks for more patience than this is asked again all the same. */
const MOST_PATIENCE_MS = 24 * 60 * MINUTE_MS;
/** Share of the interval by which one site is later than another. */
const JITTER = 0.1;

/** An even number in [0, 1) of a text: the same site always waits alike, two sites hardly ever. */
export function evenOf(text: string): number {
  let bits = 2166136261;
  for (let index = 0; index < text.length; index++) bits = Math.imul(bits ^ text.charCodeAt(index), 16777619);
  bits = Math.imul(bits ^ (bits >>> 15), 0x735a2d97);
  return ((bits ^ (bits >>> 15)) >>> 0) / 2 ** 32;
}

/** ms until the next question. `attempt` counts all questions, `failures` those without a good answer since. */
export function waitMs(
  site: string,
  everyMin: number,
  attempt: number,
  failures: number,
  retryAfterMs: number | null,
): number {
  const everyMs = everyMin * MINUTE_MS;
  const later = 1 + JITTER * evenOf(`${site} ${attempt}`);
  if (failures === 0) return everyMs * later;
  const backOffMs = Math.min(LONGEST_RETRY_MS, FIRST_RETRY_MS * 2 ** Math.min(failures - 1, 20)) * later;
  return Math.max(backOffMs, Math.min(retryAfterMs ?? 0, MOST_PATIENCE_MS));
}
