// Accept: of what was read, only what a known node can have measured at a time that can be.
import { quantityKind, type Reading } from "#contract/reading.ts";
import type { Accepted, Decoded, Refused } from "./message.ts";

/** Who is known; the log of the sites answers. */
export interface Book {
  knowsSite(site: string): boolean;
  knowsNode(site: string, node: string): boolean;
  /** When a node was taken out of use; null if it was not. */
  retiredMs(site: string, node: string): number | null;
  /** The node that a device spoke as at a time: its own name, until it was carried to another zone. */
  nodeAt(site: string, device: string, atMs: number): string;
}

/** A node's clock may run ahead of the server's by this much. */
const AHEAD_MS = 2 * 60_000;
/** Buffers of nodes hold three days; with a month nobody is refused who was only away. */
const OLDEST_MS = 35 * 24 * 3_600_000;
/** Before this no clock that was ever set can have stood (a clock that was not stands at 1970 or 2000). */
const FIRST_MS = Date.UTC(2020, 0, 1);

/** What a sensor of this kind can say at all. Wider than any limit: what lies inside is judged by the trust in sensors. */
const POSSIBLE = {
  slab: [-60, 120],
  air: [-60, 120],
  dew: [-100, 120],
  rh: [0, 110],
  battery: [0, 100],
  "battery.v": [0, 60],
  rssi: [-200, 30],
  door: [0, 1],
} as const;
/** Exact error codes of one-wire probes; they are kept, and the trust in sensors counts them. */
const ERROR_CODES_C: readonly number[] = [85, -127];

function valueFault({ quantity, value }: Reading): string | null {
  const kind = quantity === "battery.v" ? "battery.v" : quantityKind(quantity);
  if (kind === null) return `${quantity} is not a quantity`;
  if (kind === "slab" && ERROR_CODES_C.includes(value)) return null;
  const [min, max] = POSSIBLE[kind];
  return value >= min && value <= max ? null : `${quantity} ${value} is outside ${min} to ${max}`;
}

function faultOf(reading: Reading, nowMs: number): { readonly reason: string; readonly field: string } | null {
  const { quantity, atMs } = reading;
  if (atMs > nowMs + AHEAD_MS)
    return { reason: "clock", field: `${quantity}: ${Math.round((atMs - nowMs) / 1000)} s ahead` };
  if (!(atMs >= FIRST_MS)) return { reason: "clock", field: `${quantity}: ${new Date(atMs).toISOString()}` };
  if (atMs < nowMs - OLDEST_MS) return { reason: "too old", field: `${quantity}: ${new Date(atMs).toISOString()}` };
  const impossible = valueFault(reading);
  return impossible === null ? null : { reason: "impossible value", field: impossible };
}

/** Whom a device speaks for at a time, and when that node was taken out of use. */
interface Life {
  readonly atMs: number;
  readonly node: string;
  readonly retiredMs: number | null;
}

/** What `keptOf` leaves of each; the same list where it leaves all of them as they are, as it nearly always does. */
function mapped(readings: readonly Reading[], keptOf: (reading: Reading) => Reading | null): readonly Reading[] {
  let others: Reading[] | null = null;
  for (let at = 0; at < readings.length; at++) {
    const reading = readings[at] as Reading;
    const kept = keptOf(reading);
    if (kept !== reading) others ??= readings.slice(0, at);
    if (kept !== null) others?.push(kept);
  }
  return others ?? readings;
}

/** Sorts what was read into what is kept and what is refused; nothing falls in between. */
export function accept(decoded: Decoded, book: Book, nowMs: number): Accepted {
  const { site, node, from, proved, gateway, excerpt } = decoded;
  const refused: Refused[] = [...decoded.refused];
  const refuse = (reason: string, field: string) =>
    void refused.push({ site, node, reason, field, excerpt: excerpt() });
  const nothing = (): Accepted => ({ site, node, excerpt, readings: [], presence: null, refused });
  if (decoded.readings.length === 0 && decoded.presence === null) return nothing();
  if (!book.knowsSite(site)) {
    refuse("unknown site", site);
    return nothing();
  }
  if (!book.knowsNode(site, node)) {
    refuse("unknown node", node);
    return nothing();
  }
  // A client that signs in as one node speaks for that node alone, unless it is the gateway that a recipe names.
  if (from !== null && from !== node && from !== gateway && (proved || book.knowsNode(site, from))) {
    refuse("topic of another node", `signed in as ${from}`);
    return nothing();
  }
  const lifeAt = (atMs: number): Life => {
    const of = book.nodeAt(site, node, atMs);
    return { atMs, node: of, retiredMs: book.retiredMs(site, of) };
  };
  let life: Life | null = null;
  const keptOf = (reading: Reading): Reading | null => {
    const { quantity, atMs, value } = reading;
    const fault = faultOf(reading, nowMs);
    if (fault !== null) {
      refuse(fault.reason, fault.field);
      return null;
    }
    // Readings of a pack mostly have one time.
    if (life?.atMs !== atMs) life = lifeAt(atMs);
    // Its buffer may still bring what it measured before.
    if (life.retiredMs !== null && atMs > life.retiredMs) {
      refuse("taken out of use", quantity);
      return null;
    }
    return life.node === reading.node ? reading : { node: life.node, quantity, atMs, value };
  };
  const readings = mapped(decoded.readings, keptOf);
  return { site, node: book.nodeAt(site, node, nowMs), excerpt, readings, presence: decoded.presence, refused };
}
