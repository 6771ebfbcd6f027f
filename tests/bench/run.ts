// All measurements of the bench, in their order.
import { builtPrograms } from "./child-build.ts";
import { measureBundle } from "./bundle.ts";
import { measureCapacity } from "./capacity.ts";
import { measureChart } from "./chart.ts";
import { measureCrowd } from "./crowd.ts";
import { measureMemory } from "./endure.ts";
import type { Figure } from "./figure.ts";
import { fillFolder } from "./filled.ts";
import { measureIngest } from "./ingest.ts";
import { startJudging } from "./judge.ts";
import { measureLatency } from "./latency.ts";
import { measureLargeBoard } from "./page.ts";
import { measurePixel } from "./pixel.ts";
import { measureSeries } from "./series.ts";
import { measureSlowPhone } from "./slow-phone.ts";
import type { Sizes } from "./sizes.ts";
import { measureStart } from "./start.ts";

export const PARTS = [
  "bundle",
  "judge",
  "ingest",
  "store",
  "start",
  "latency",
  "crowd",
  "memory",
  "capacity",
  "page",
] as const;
export type Part = (typeof PARTS)[number];

/** Measures the named parts, one after the other so that none disturbs another; `say` hears what is going on. */
export async function measure(sizes: Sizes, parts: readonly Part[], say: (text: string) => void): Promise<Figure[]> {
  const figures = new Map<Part, Figure[]>();
  await builtPrograms();
  const told = async <T>(what: string, work: () => Promise<T>): Promise<T> => {
    const startMs = performance.now();
    const done = await work();
    say(`${what}: ${((performance.now() - startMs) / 1000).toFixed(1)} s`);
    return done;
  };
  const part = async (name: Part, what: string, work: () => Promise<Figure[]>): Promise<void> => {
    if (parts.includes(name)) figures.set(name, await told(what, work));
  };
  const judging = parts.includes("judge") ? await startJudging(sizes) : null;
  let rounds = 0;
  /** What takes microseconds is timed again with minutes between: who else runs on the machine comes and goes. */
  const judge = async (): Promise<void> => {
    if (judging === null || rounds >= sizes.judgeRounds) return;
    rounds += 1;
    await told(`judging, round ${rounds}`, () => judging.round());
    figures.set("judge", judging.figures());
  };
  try {
    await part("bundle", "the dashboard's size", measureBundle);
    await judge();
    await part("ingest", "ingest", () => measureIngest(sizes, say));
    await part("crowd", "a crowd of zones", () => measureCrowd(sizes));
    await judge();
    await part("memory", "what the server holds", () => measureMemory(sizes));
    await part("page", "what a browser shows", async () => [
      ...(await measureSlowPhone(sizes)),
      ...(await measurePixel(sizes)),
      ...(await measureLargeBoard(sizes)),
    ]);
    await judge();
    await part("capacity", "how many sites", () => measureCapacity(sizes));
    if (parts.some((name) => name === "store" || name === "start" || name === "latency")) {
      const filled = await told("filling a folder", () => fillFolder(sizes.rows));
      try {
        await part("store", "storing and asking", async () => [
          ...(await measureSeries(filled, sizes)),
          ...(await measureChart(filled, sizes)),
        ]);
        await part("start", "starting", () => measureStart(filled, sizes));
        await part("latency", "from pack to screen", () => measureLatency(filled, sizes));
      } finally {
        await filled.remove();
      }
    }
    await judge();
  } finally {
    await judging?.end();
  }
  return PARTS.flatMap((name) => figures.get(name) ?? []);
}
