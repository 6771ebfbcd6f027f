// Storing and asking: readings a second, bytes a reading, and 30 days in 500 points out of millions of readings.
import { openStore } from "../../server/store/store.ts";
import type { Bucket } from "../../server/store/ports.ts";
import type { Series } from "#core/zone/site.ts";
import { atMost, type Figure } from "./figure.ts";
import { type Filled, ZONES } from "./filled.ts";
import { fillPlain } from "./plain-table.ts";
import { HOUR_MS, nodeId, QUANTITIES, SITE } from "./site.ts";
import type { Sizes } from "./sizes.ts";
import { median, quantile, shown } from "./stats.ts";

const DAYS_MS = 30 * 24 * HOUR_MS;
const POINTS = 500;

/** Long steps meet at whole quarters of an hour. */
const GRAIN_MS = HOUR_MS / 4;

/** The same summary by hand: every reading is fetched, and summed up outside the engine. */
function summed({ atMs, values }: Series, fromMs: number, stepMs: number): Bucket[] {
  const steps = Array.from({ length: POINTS }, () => ({ min: Infinity, max: -Infinity, sum: 0, count: 0 }));
  for (const [index, time] of atMs.entries()) {
    const step = steps[Math.max(0, Math.floor((time - (time % GRAIN_MS) - fromMs) / stepMs))];
    const value = values[index] as number;
    if (step === undefined) continue;
    step.min = Math.min(step.min, value);
    step.max = Math.max(step.max, value);
    step.sum += value;
    step.count += 1;
  }
  return steps.map(({ min, max, sum, count }) =>
    count === 0 ? { min: null, mean: null, max: null } : { min, mean: sum / count, max },
  );
}

function timedMs<T>(work: () => T): { readonly ms: number; readonly result: T } {
  const startMs = performance.now();
  const result = work();
  return { ms: performance.now() - startMs, result };
}

export async function measureSeries(filled: Filled, { queries, plainRows }: Sizes): Promise<Figure[]> {
  const plain = await fillPlain(plainRows, filled.endMs);
  const plainWhat = `same engine, plain table and index, ${plainRows / 1e6} M`;
  const stepMs = DAYS_MS / POINTS;
  const fromMs = filled.endMs - DAYS_MS;
  const asked: number[] = [];
  const fetched: number[] = [];
  const store = openStore(filled.data);
  try {
    for (let query = 0; query < queries; query++) {
      const node = nodeId(query % ZONES);
      const quantity = QUANTITIES[query % QUANTITIES.length] as string;
      const own = timedMs(() => store.readings.buckets(SITE.id, node, quantity, fromMs, stepMs, POINTS));
      const peer = timedMs(() =>
        summed(store.readings.range(SITE.id, node, quantity, fromMs, filled.endMs - 1), fromMs, stepMs),
      );
      for (const key of ["min", "max"] as const) {
        const differ = own.result.findIndex((bucket, step) => bucket[key] !== peer.result[step]?.[key]);
        if (differ >= 0) throw new Error(`step ${differ} of ${node}/${quantity} has two answers`);
      }
      asked.push(own.ms);
      fetched.push(peer.ms);
    }
  } finally {
    store.close();
  }
  return [
    {
      what: "readings stored, big transactions",
      value: filled.rowsPerS,
      unit: "readings/s",
      n: filled.rows,
      spread: "",
      peer: { what: plainWhat, value: plain.rowsPerS },
    },
    {
      what: "a reading on the disk",
      value: filled.bytesPerReading,
      unit: "bytes",
      n: filled.rows,
      spread: "",
      peer: { what: plainWhat, value: plain.bytesPerReading },
      goal: atMost(40),
    },
    {
      what: `30 days of one series in ${POINTS} points`,
      value: median(asked),
      unit: "ms",
      n: queries,
      spread: `p90 ${shown(quantile(asked, 0.9))}`,
      peer: { what: "every reading fetched and summed up", value: median(fetched) },
    },
  ];
}
