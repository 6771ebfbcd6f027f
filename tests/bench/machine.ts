// The machine and the moment that figures belong to.
import { availableParallelism, cpus, loadavg, totalmem } from "node:os";
import type { Machine } from "./figure.ts";

export function thisMachine(sizes: string): Machine {
  return {
    at: new Date().toISOString(),
    cores: availableParallelism(),
    processor: cpus()[0]?.model ?? "unknown",
    memoryGiB: Math.round(totalmem() / 2 ** 30),
    node: process.version,
    platform: `${process.platform} ${process.arch}`,
    load: Math.round((loadavg()[0] ?? 0) * 10) / 10,
    sizes,
  };
}
