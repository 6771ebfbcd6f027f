// Sends what waits: in order for each way, with patience between tries, and never twice what is known to have arrived.
import { quietUntil } from "./quiet.ts";
import type { KeptContact, KeptDelivery, Letter, NotifyStore, Sent, Way } from "./ports.ts";

export interface OutboxParts {
  readonly store: NotifyStore;
  readonly now: () => number;
  readonly contact: (id: string) => { readonly contact: KeptContact; readonly ways: readonly Way[] } | null;
  readonly letter: (rows: readonly [KeptDelivery, ...KeptDelivery[]], contact: KeptContact) => Letter;
  /** Whether the alarm of a row still waits for an answer; null when nobody knows. */
  readonly isOpen: (row: KeptDelivery) => boolean | null;
  readonly timezone: (site: string) => string;
  /** A try failed: others may have to be told instead. */
  readonly troubled: (rows: readonly KeptDelivery[], sent: Extract<Sent, { ok: false }>) => void;
  readonly failed: (what: string, error: unknown) => void;
}

/** Between tries, s. The first come soon: most failures are a network that is away for a moment. */
const WAITS_S = [15, 30, 60, 120, 240, 480, 900] as const;
const LONGEST_WAIT_MS = 3_600_000;
/** After a day it is of no use: the morning has come, and the list holds it. */
const GIVE_UP_MS = 24 * 3_600_000;
const TOGETHER = 200;

/** When to try again; null = never. */
export function nextTryMs(row: KeptDelivery, sent: Extract<Sent, { ok: false }>, nowMs: number): number | null {
  if (!sent.again || sent.gone === true) return null;
  const waitMs = (WAITS_S[Math.min(row.tries, WAITS_S.length - 1)] ?? 900) * 1000;
  const atMs = nowMs + Math.max(waitMs, Math.min(LONGEST_WAIT_MS, sent.afterMs ?? 0));
  return atMs - Math.max(row.madeMs, row.notBeforeMs) > GIVE_UP_MS ? null : atMs;
}

/** What goes in one letter: a wake alone, what is only told with what is told of the same site behind it. */
function together(rows: readonly KeptDelivery[]): [KeptDelivery, ...KeptDelivery[]] | null {
  const [first, ...rest] = rows;
  if (first === undefined) return null;
  const isTold = (row: KeptDelivery) => row.level === "tell" && row.kind === "alarm" && row.site === first.site;
  if (!isTold(first)) return [first];
  const end = rest.findIndex((row) => !isTold(row));
  return [first, ...(end === -1 ? rest : rest.slice(0, end))];
}

export function createOutbox(parts: OutboxParts) {
  const { store, now } = parts;
  const busy = new Map<string, Promise<void>>();
  let closed = false;
  let cut: () => void = () => undefined;
  const isCut = new Promise<"cut">((resolve) => (cut = () => resolve("cut")));

  /** A wake that was answered on the way there rings nobody any more: it is told in the morning. */
  function calmed(row: KeptDelivery, contact: KeptContact): boolean {
    if (row.level !== "wake" || row.kind !== "alarm" || row.tries === 0 || parts.isOpen(row) !== false) return false;
    const nowMs = now();
    store.postpone(row.seq, "tell", quietUntil(contact.quiet, parts.timezone(row.site), nowMs) ?? nowMs);
    return true;
  }

  function settle(rows: readonly [KeptDelivery, ...KeptDelivery[]], sent: Sent): void {
    const nowMs = now();
    const [first] = rows;
    const seqs = rows.map(({ seq }) => seq);
    store.together(() => {
      if (sent.ok) {
        store.sent(seqs, nowMs);
        store.wayWorks(first.contact, first.way);
        return;
      }
      for (const row of rows) store.failed([row.seq], sent.why, nextTryMs(row, sent, nowMs));
      store.wayFailed(first.contact, first.way, sent.why, nowMs);
      parts.troubled(rows, sent);
    });
    // Others who are told instead do not wait for the next second.
    if (!sent.ok) tick();
  }

  async function work(contactId: string, wayId: string): Promise<void> {
    for (;;) {
      if (closed) return;
      const nowMs = now();
      const waiting = store.due(contactId, wayId, nowMs, TOGETHER);
      const rows = together(waiting);
      if (rows === null) return;
      // A wake does not stand behind the patience of what failed before it: what stands before it is tried with it.
      const isPressing = waiting.some(({ level, nextTryMs: dueMs }) => level === "wake" && dueMs <= nowMs);
      const isFar = rows[0].nextTryMs > nowMs && rows[0].nextTryMs <= nowMs + 2 * LONGEST_WAIT_MS;
      if (isFar && !isPressing) return;
      const found = parts.contact(contactId);
      const way = found?.ways.find(({ id }) => id === wayId);
      if (found === null || way === undefined) {
        store.failed(
          rows.map(({ seq }) => seq),
          "the contact has no such way any more",
          null,
        );
        continue;
      }
      if (calmed(rows[0], found.contact)) continue;
      const sent = await Promise.race([way.send(parts.letter(rows, found.contact)), isCut]);
      // Whether it arrived nobody knows: it waits for the next start, and takes its own place if it did.
      if (sent === "cut") return;
      settle(rows, sent);
      if (sent.ok || !sent.again) continue;
      // The way does not work now: what stands behind has failed with it, so that others are told of it in time.
      const behind = waiting.filter((row) => row.level === "wake" && row.nextTryMs <= nowMs && !rows.includes(row));
      const [next, ...rest] = behind;
      if (next !== undefined) settle([next, ...rest], sent);
      return;
    }
  }

  function tick(): void {
    if (closed) return;
    for (const { contact, way } of store.waysDue(now())) {
      const name = `${contact} ${way}`;
      if (busy.has(name)) continue;
      const working = work(contact, way)
        .catch((error: unknown) => parts.failed(`telling ${contact} by ${way}`, error))
        .finally(() => busy.delete(name));
      busy.set(name, working);
    }
  }

  return {
    /** Begins with whatever may go by now; returns at once. */
    tick,
    /** Resolves when nothing is on its way any more. */
    async idle(): Promise<void> {
      while (busy.size > 0) await Promise.all(busy.values());
    },
    /** Starts nothing more, and waits a little for what is on its way. */
    async close(patienceMs = 3000): Promise<void> {
      closed = true;
      const timer = setTimeout(cut, patienceMs);
      await Promise.all(busy.values());
      clearTimeout(timer);
    },
  };
}
