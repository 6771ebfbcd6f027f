// A figure of the bench, with what was measured beside it in the same run; and the table that is printed of them.
import { shown } from "./stats.ts";

export interface Figure {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** Measurements that the value is taken from. */
  readonly n: number;
  /** Other quantiles, or the range of the rounds. */
  readonly spread: string;
  readonly peer: { readonly what: string; readonly value: number } | null;
}

export interface Machine {
  readonly at: string;
  readonly cores: number;
  readonly processor: string;
  readonly memoryGiB: number;
  readonly node: string;
  readonly platform: string;
  /** Processes that wanted to run during the last minute, on the mean; above `cores` everything waits. */
  readonly load: number;
  readonly sizes: string;
}

const HEADING = ["figure", "value", "unit", "n", "spread", "beside it", "its value", "ratio"];

function cellsOf({ what, value, unit, n, spread, peer }: Figure): string[] {
  const beside = peer === null ? ["", "", ""] : [peer.what, shown(peer.value), shown(value / peer.value)];
  return [what, shown(value), unit, n.toLocaleString("en"), spread, ...beside];
}

export function tableOf(figures: readonly Figure[], machine: Machine): string {
  const rows = figures.map(cellsOf);
  const widths = HEADING.map((name, column) => Math.max(name.length, ...rows.map((row) => (row[column] ?? "").length)));
  const line = (cells: readonly string[]) => `| ${cells.map((cell, at) => cell.padEnd(widths[at] ?? 0)).join(" | ")} |`;
  return [
    `${machine.at}, ${machine.cores} cores (${machine.processor}), ${machine.memoryGiB} GiB, ${machine.platform}, Node ${machine.node}, load ${machine.load}, ${machine.sizes} run`,
    "",
    line(HEADING),
    line(widths.map((width) => "-".repeat(width))),
    ...rows.map(line),
    "",
    "Times and rates are of this machine and this hour, and a load above the cores lengthens them. What was measured beside a\nfigure met the same hour: read the ratio first. Computing time counts all threads and no waiting.",
    "",
  ].join("\n");
}

export function jsonOf(figures: readonly Figure[], machine: Machine): string {
  const all = figures.map((figure) => ({
    ...figure,
    ratio: figure.peer === null ? null : figure.value / figure.peer.value,
  }));
  return `${JSON.stringify({ machine, figures: all }, null, 2)}\n`;
}
