// Where readings land: what arrives in one turn of the event loop is committed together, and known only when it is on the disk.
import type { Reading } from "#contract/reading.ts";
import type { HeardReading, Landed, Presence, Refused, Store } from "./ports.ts";

/** What one message leaves behind. */
export interface Parcel {
  readonly site: string;
  readonly node: string;
  /** The beginning of what was sent. */
  readonly excerpt: () => string;
  /** Of this site. */
  readonly readings: readonly Reading[];
  readonly presence: Presence | null;
  readonly refused: readonly Refused[];
}

export interface LandedParcel {
  readonly site: string;
  readonly node: string;
  readonly heardMs: number;
  /** Readings that are new; repeats and contradictions are not among them. */
  readonly stored: readonly HeardReading[];
  readonly same: number;
  readonly presence: Presence | null;
  /** Everything refused, contradictions included. */
  readonly refused: readonly Refused[];
}

export interface Landing {
  /**
   * Keeps a parcel. `keep` is told in the same turn in which it was committed, so that nothing is judged in between;
   * the promise resolves after that, and rejects if the parcel is not on the disk.
   */
  land(parcel: Parcel, keep: (landed: LandedParcel) => void): Promise<void>;
  /** Commits what waits now. */
  flush(): void;
  waiting(): number;
  /** True while more than a few parcels land at a time, one commit after the other: what can wait then waits. */
  floods(): boolean;
  /** Why the last commit failed; null if it did not. */
  failure(): string | null;
  /** Commits what waits; nothing is taken afterwards. */
  close(): void;
}

interface Waiting {
  readonly parcel: Parcel;
  readonly keep: (landed: LandedParcel) => void;
  readonly resolve: () => void;
  readonly reject: (error: Error) => void;
}

/** Readings in one transaction at most: a flood must not hold the event loop for long. */
const MOST_READINGS = 2000;
/** So many parcels in one commit are a flood, and for so long after it, ms of wall time. */
const FLOOD_PARCELS = 50;
const FLOOD_MS = 100;

/** Readings of all parcels, one after the other. */
function heardOf(batch: readonly Waiting[], heardMs: number): HeardReading[] {
  const heard = Array<HeardReading>(batch.reduce((sum, { parcel }) => sum + parcel.readings.length, 0));
  let next = 0;
  for (const { parcel } of batch) {
    const { site, readings } = parcel;
    for (const { node, quantity, atMs, value } of readings)
      heard[next++] = { site, node, quantity, atMs, value, heardMs };
  }
  return heard;
}

function contradiction({ site, node, excerpt }: Parcel, reading: Reading): Refused {
  const at = new Date(reading.atMs).toISOString();
  return {
    site,
    node,
    reason: "another value stands for this time",
    field: `${reading.quantity} ${reading.value} at ${at}`,
    excerpt: excerpt(),
  };
}

/** What became of the readings of a parcel: those from `from` on of all that landed with it. */
function settle(
  parcel: Parcel,
  readings: readonly HeardReading[],
  answers: readonly Landed[],
  { from, heardMs }: { readonly from: number; readonly heardMs: number },
): LandedParcel {
  const { site, node, presence } = parcel;
  const to = from + parcel.readings.length;
  const isStored = (at: number) => answers[at] === "stored";
  let at = from;
  while (at < to && isStored(at)) at++;
  // Nearly always all of them.
  const stored = readings.slice(from, at);
  let { refused } = parcel;
  let contradictions = 0;
  for (; at < to; at++) {
    const reading = readings[at] as HeardReading;
    if (isStored(at)) stored.push(reading);
    else if (answers[at] === "conflict") {
      refused = [...refused, contradiction(parcel, reading)];
      contradictions += 1;
    }
  }
  return { site, node, heardMs, stored, same: to - from - stored.length - contradictions, presence, refused };
}

/** `heardNow` gives the moment of hearing: later than any judging before it. */
export function createLanding(store: Store, heardNow: () => number): Landing {
  let queue: Waiting[] = [];
  let due: NodeJS.Immediate | null = null;
  let failed: string | null = null;
  let closed = false;
  let floodedMs = Number.NEGATIVE_INFINITY;

  const commit = (batch: readonly Waiting[]): void => {
    const heardMs = heardNow();
    let landed: LandedParcel[];
    try {
      landed = store.together(() => {
        const readings = heardOf(batch, heardMs);
        const answers = store.readings.append(readings);
        let from = 0;
        return batch.map(({ parcel }) => {
          const one = settle(parcel, readings, answers, { from, heardMs });
          from += parcel.readings.length;
          if (one.refused.length > 0) store.quarantine.add(one.refused, heardMs);
          if (one.presence !== null) store.presence.set(one.site, one.node, one.presence, heardMs);
          return one;
        });
      });
      failed = null;
    } catch (error) {
      failed = error instanceof Error ? error.message : String(error);
      for (const { reject } of batch) reject(new Error(`not stored: ${failed}`));
      return;
    }
    for (const [index, { keep, resolve, reject }] of batch.entries()) {
      try {
        keep(landed[index] as LandedParcel);
        resolve();
      } catch (error) {
        // It is on the disk and will be there after a restart: a repeat lands as `same` and is acknowledged then.
        reject(error instanceof Error ? error : new Error(String(error)));
      }
    }
  };

  const commitNext = (): void => {
    let readings = 0;
    const after = queue.findIndex(({ parcel }) => (readings += parcel.readings.length) >= MOST_READINGS);
    const batch = after === -1 ? queue : queue.slice(0, after + 1);
    queue = after === -1 ? [] : queue.slice(after + 1);
    if (batch.length > 0) commit(batch);
    if (batch.length >= FLOOD_PARCELS) floodedMs = performance.now();
  };
  /** One transaction a turn: what it brought is acknowledged before the next, so that more comes meanwhile. */
  const turn = (): void => {
    due = null;
    commitNext();
    if (queue.length > 0) due ??= setImmediate(turn);
  };
  const flush = (): void => {
    if (due !== null) clearImmediate(due);
    due = null;
    while (queue.length > 0) commitNext();
  };

  return {
    land(parcel, keep) {
      if (closed) return Promise.reject(new Error("not stored: the server is stopping"));
      return new Promise<void>((resolve, reject) => {
        queue.push({ parcel, keep, resolve, reject });
        due ??= setImmediate(turn);
      });
    },
    flush,
    waiting: () => queue.length,
    floods: () => performance.now() - floodedMs < FLOOD_MS,
    failure: () => failed,
    close() {
      flush();
      closed = true;
    },
  };
}
