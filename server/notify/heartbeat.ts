// The watchman watched: a sign of life to an address outside, which somebody there misses when it stays away.
import type { PartHealth } from "#contract/health.ts";
import { whyOf } from "./post.ts";

export interface HeartbeatParts {
  /** Null: nobody outside is told. */
  readonly url: string | null;
  readonly method: "GET" | "POST";
  readonly everyMs: number;
  readonly steadyMs: () => number;
  /** Why no sign must be given; null while broker, store and judge are well. */
  readonly ill: () => string | null;
}

const PATIENCE_MS = 10_000;

export function createHeartbeat({ url, method, everyMs, steadyMs, ill }: HeartbeatParts) {
  let nextMs = Number.NEGATIVE_INFINITY;
  let trouble: string | null = null;
  let silent: string | null = null;
  let beats = 0;
  async function beat(to: string): Promise<void> {
    try {
      const answer = await fetch(to, { method, redirect: "manual", signal: AbortSignal.timeout(PATIENCE_MS) });
      await answer.body?.cancel();
      trouble = answer.ok ? null : `answered ${answer.status}`;
      if (answer.ok) beats += 1;
    } catch (error) {
      trouble = whyOf(error);
    }
  }
  return {
    /** Called every second or so; a beat that fails is tried again at its next turn. */
    async tick(): Promise<void> {
      if (url === null || steadyMs() < nextMs) return;
      nextMs = steadyMs() + everyMs;
      silent = ill();
      if (silent === null) await beat(url);
    },
    beats: () => beats,
    health(): PartHealth {
      if (url === null) return { state: "up", detail: "no heartbeat is set up" };
      if (silent !== null) return { state: "degraded", detail: `no heartbeat is sent: ${silent}` };
      return trouble === null ? { state: "up", detail: null } : { state: "degraded", detail: `heartbeat: ${trouble}` };
    },
  };
}
