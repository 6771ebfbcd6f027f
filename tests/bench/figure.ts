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
  /** What the product is held to: at most or at least so much, of the value or of its ratio to the peer. */
  readonly goal?: Goal;
}

export interface Goal {
  readonly is: "at most" | "at least";
  readonly limit: number;
  readonly of: "value" | "ratio";
}

export const atMost = (limit: number): Goal => ({ is: "at most", limit, of: "value" });
export const ratioAtLeast = (limit: number): Goal => ({ is: "at least", limit, of: "ratio" });

function ratioOf({ value, peer }: Figure): number | null {
  return peer === null ? null : value / peer.value;
}

/** Null without a goal, or when its peer was not there. */
export function metBy(figure: Figure): boolean | null {
  const { goal, value } = figure;
  const held = goal?.of === "ratio" ? ratioOf(figure) : value;
  if (goal === undefined || held === null) return null;
  return goal.is === "at most" ? held <= goal.limit : held >= goal.limit;
}

function goalText({ goal, unit }: Figure): string {
  if (goal === undefined) return "";
  return `${goal.is} ${shown(goal.limit)} ${goal.of === "ratio" ? "of the peer" : unit}`;
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

const HEADING = ["figure", "goal", "value", "unit", "n", "spread", "beside it", "its value", "ratio", "met"];

function cellsOf(figure: Figure): string[] {
  const { what, value, unit, n, spread, peer } = figure;
  const met = metBy(figure);
  const beside = peer === null ? ["", "", ""] : [peer.what, shown(peer.value), shown(value / peer.value)];
  const verdict = met === null ? "" : met ? "yes" : "no";
  return [what, goalText(figure), shown(value), unit, n.toLocaleString("en"), spread, ...beside, verdict];
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
    ratio: ratioOf(figure),
    met: metBy(figure),
  }));
  return `${JSON.stringify({ machine, figures: all }, null, 2)}\n`;
}
