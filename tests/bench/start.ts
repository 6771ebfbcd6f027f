// From nothing to the first verdict, on the filled folder; beside a folder with the same zones and no readings.
import { startChild } from "./child.ts";
import { atMost, type Figure } from "./figure.ts";
import { emptyFolder, type Filled } from "./filled.ts";
import type { Started, StartWish } from "./server-child.ts";
import type { Sizes } from "./sizes.ts";
import { median, rangeText } from "./stats.ts";

interface Start extends Started {
  /** From the start of the process to the first verdict, ms. */
  readonly processMs: number;
  /** Computing time of the process until then, ms. */
  readonly cpuMs: number;
}

/** A process of its own each time, so that nothing is left from the last. */
async function started(data: string): Promise<Start> {
  const startMs = performance.now();
  const child = await startChild("server");
  const wish: StartWish = { data, zones: 0 };
  const one = await child.ask<Started>("start", wish);
  const processMs = performance.now() - startMs;
  const cpuMs = await child.cpuMs();
  await child.ask("stop").finally(() => child.end());
  return { ...one, processMs, cpuMs };
}

export async function measureStart(filled: Filled, { starts }: Sizes): Promise<Figure[]> {
  const empty = await emptyFolder();
  const own: Start[] = [];
  const peer: Start[] = [];
  try {
    for (let round = 0; round < starts; round++) {
      own.push(await started(filled.data));
      peer.push(await started(empty.path));
    }
  } finally {
    await empty.remove();
  }
  type Key = "doorsMs" | "firstVerdictMs" | "processMs" | "cpuMs";
  const figure = (what: string, key: Key, goalMs?: number): Figure => {
    const values = own.map((one) => one[key]);
    return {
      what: `start on ${(filled.rows / 1e6).toLocaleString("en")} M readings: ${what}`,
      value: median(values),
      unit: "ms",
      n: starts,
      spread: rangeText(values),
      peer: { what: "same zones, no readings", value: median(peer.map((one) => one[key])) },
      ...(goalMs === undefined ? {} : { goal: atMost(goalMs) }),
    };
  };
  return [
    figure("doors open", "doorsMs"),
    figure("first verdict", "firstVerdictMs"),
    figure("first verdict, from the start of the process", "processMs", 2000),
    figure("computing time of the process until then", "cpuMs"),
  ];
}
