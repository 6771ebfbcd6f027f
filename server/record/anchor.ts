// Sends the heads of closed days outside, so that nobody who holds this machine can rewrite them unseen.
import type { PartHealth } from "#contract/health.ts";

/** What an anchor is told: enough to compare, nothing of what was recorded. */
export interface HeadToSend {
  readonly site: string;
  readonly day: string;
  readonly head: string;
}

/** Somebody outside who keeps heads: a web hook, a mail box. Rejects if it was not taken. */
export type HeadSender = (head: HeadToSend) => Promise<void>;

/** A head is taken when all have it; whoever had it already may be told again after another failed. */
export function allOf(senders: readonly HeadSender[]): HeadSender | null {
  if (senders.length === 0) return null;
  return async (head) => {
    for (const sender of senders) await sender(head);
  };
}

export interface AnchorParts {
  /** Heads of closed days that no anchor has taken, oldest first. */
  readonly waiting: () => readonly HeadToSend[];
  readonly taken: (head: HeadToSend) => void;
  readonly sender: HeadSender | null;
  readonly steadyMs: () => number;
  readonly failed: (error: unknown) => void;
}

const FIRST_WAIT_MS = 60_000;
const LONGEST_WAIT_MS = 3_600_000;

/** The heads go in their order; after a failure it waits longer each time, an hour at most, and begins with the same one. */
export function createAnchor({ waiting, taken, sender, steadyMs, failed }: AnchorParts) {
  let failures = 0;
  let notBeforeMs = Number.NEGATIVE_INFINITY;
  let lastError: string | null = null;
  let busy = false;
  return {
    async tick(): Promise<void> {
      if (sender === null || busy || steadyMs() < notBeforeMs) return;
      busy = true;
      try {
        for (const head of waiting()) {
          await sender(head);
          taken(head);
        }
        failures = 0;
        lastError = null;
      } catch (error) {
        failures += 1;
        notBeforeMs = steadyMs() + Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (failures - 1));
        lastError = error instanceof Error ? error.message : String(error);
        failed(error);
      } finally {
        busy = false;
      }
    },
    health(): PartHealth {
      if (sender === null) return { state: "up", detail: "no anchor outside is set up" };
      return lastError === null
        ? { state: "up", detail: null }
        : { state: "degraded", detail: `heads of ${waiting().length} days wait: ${lastError}` };
    },
  };
}

const PATIENCE_MS = 10_000;

/** A web hook: the head as JSON by POST; any answer of the two hundreds takes it. */
export function webHookSender(url: string): HeadSender {
  return async (head) => {
    const answer = await fetch(url, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(head),
      redirect: "error",
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    await answer.body?.cancel();
    if (!answer.ok) throw new Error(`answered ${answer.status}`);
  };
}
