// `npm run accuracy`: prints what was measured beside what is allowed; exits 1 if anything is beyond its tolerance.
import { TOLERANCES } from "./reference/tolerances.ts";
import { type Measured, memoryWarnings, misses, summaries } from "./support/checks.ts";
import { MEASURES } from "./support/measure/all.ts";

function shown(value: number): string {
  if (value === 0) return "0";
  return Math.abs(value) >= 0.001 ? value.toPrecision(3) : value.toExponential(1);
}

function rowsOf(measured: Measured): string[][] {
  return summaries(measured).map((summary) => [
    summary.quantity,
    TOLERANCES[summary.quantity].unit,
    summary.table,
    String(summary.checks),
    shown(summary.mean),
    shown(summary.max),
    shown(summary.meanAllowed),
    shown(summary.maxAllowed),
    summary.within ? "yes" : "NO",
  ]);
}

function printTable(rows: readonly (readonly string[])[]): void {
  const heading = ["quantity", "unit", "source", "values", "mean", "max", "mean allowed", "max allowed", "within"];
  const widths = heading.map((name, column) =>
    Math.max(name.length, ...rows.map((row) => (row[column] as string).length)),
  );
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell, i) => cell.padEnd(widths[i] as number)).join(" | ")} |`;
  process.stdout.write(
    `${[line(heading), line(widths.map((width) => "-".repeat(width))), ...rows.map(line)].join("\n")}\n`,
  );
}

const measured = MEASURES.map((measure) => measure());
printTable(measured.flatMap(rowsOf));

for (const { table, notApplicable } of measured) {
  for (const [kind, { rows, reason }] of Object.entries(notApplicable)) {
    process.stdout.write(`not measured: ${rows} rows "${kind}" of ${table} (${reason})\n`);
  }
}
for (const warning of measured.flatMap(memoryWarnings))
  process.stdout.write(`warning, value from memory: ${warning}\n`);

const missed = measured.flatMap(misses);
for (const miss of missed) process.stderr.write(`beyond its tolerance: ${miss}\n`);
const within = missed.length === 0 && measured.every((table) => summaries(table).every((summary) => summary.within));
process.exitCode = within ? 0 : 1;
