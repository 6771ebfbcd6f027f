// Sums of readings in the running server: made in the pauses of everything else, so that charts of months need not read them all.
import type { FastifyBaseLogger } from "fastify";
import type { EmbeddedStore } from "./store/store.ts";

export interface SumsParts {
  readonly store: Pick<EmbeddedStore, "sums">;
  readonly nowMs: () => number;
  /** True while packets or judgings wait. */
  readonly busy: () => boolean;
  readonly log: Pick<FastifyBaseLogger, "error">;
  readonly count: (name: string, by: number) => void;
}

/** Between two small steps, ms of wall time: ten million readings from before are summed up in about two minutes. */
const PAUSE_MS = 40;

export function createSumming({ store, nowMs, busy, log, count }: SumsParts) {
  let stopped = false;
  let running: Promise<void> | null = null;
  let wake: (() => void) | null = null;

  const pause = () =>
    new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, PAUSE_MS);
      wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  async function turn(): Promise<boolean> {
    do await pause();
    while (busy() && !stopped);
    return !stopped;
  }
  async function run(): Promise<void> {
    try {
      count("halfDaysSummed", await store.sums.run(nowMs(), turn));
    } catch (error) {
      // Charts are as right as ever, and slower: the next minute tries again.
      count("sumFailures", 1);
      log.error({ err: error }, "readings were not summed up");
    }
  }

  return {
    /** Once a minute; one round at a time. */
    tick(): void {
      if (stopped) return;
      running ??= run().finally(() => (running = null));
    },
    async close(): Promise<void> {
      stopped = true;
      wake?.();
      await running;
    },
  };
}
