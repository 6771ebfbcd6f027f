// `npm run bench`: measures the product, each figure beside its peer in the same run, and prints a table.
import { parseArgs } from "node:util";
import { BASELINE, halved } from "./baseline.ts";
import { jsonOf, tableOf } from "./figure.ts";
import { thisMachine } from "./machine.ts";
import { measure, type Part, PARTS } from "./run.ts";
import { FULL, QUICK } from "./sizes.ts";

const HELP = `Measures ingest, judging, storing, asking, starting and what reaches a screen; prints a table.

  npm run --silent bench -- [--quick] [--whole] [--json] [--kept] [--only PART]...

  --quick       smaller, some minutes on two idle cores; the full bench is meant to take ten at most
  --whole       an hour of a thousand zones and a day of one site are played to their end with a pack a minute, however long that takes
  --json        the same figures as JSON
  --kept        ends with 1 if a ratio has become half as good as the kept one
  --only PART   ${PARTS.join(", ")}

Works in temporary folders, which it removes, and on 127.0.0.1 only. Needs about 1 GB there; --quick needs
300 MB. Asks the package registry for one peer, and goes on without it.
`;

async function main(args: readonly string[]): Promise<number> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      quick: { type: "boolean", default: false },
      whole: { type: "boolean", default: false },
      kept: { type: "boolean", default: false },
      json: { type: "boolean", default: false },
      only: { type: "string", multiple: true, default: [...PARTS] },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return 0;
  }
  const unknown = values.only.filter((name) => !PARTS.some((part) => part === name));
  if (unknown.length > 0) throw new TypeError(`no such part: ${unknown.join(", ")}`);
  const named = values.quick ? QUICK : FULL;
  const sizes = values.whole ? { ...named, soakStepMinutes: 1, endureWithinMs: Number.POSITIVE_INFINITY } : named;
  const machine = thisMachine(sizes.name);
  const figures = await measure(sizes, values.only as Part[], (text) => void process.stderr.write(`${text}\n`));
  process.stdout.write(values.json ? jsonOf(figures, machine) : `\n${tableOf(figures, machine)}`);
  const worse = values.kept ? halved(figures, BASELINE) : [];
  for (const line of worse) process.stderr.write(`half as good as kept: ${line}\n`);
  return worse.length === 0 ? 0 : 1;
}

for (const [signal, code] of [
  ["SIGINT", 130],
  ["SIGTERM", 143],
] as const)
  process.once(signal, () => process.exit(code));
try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  process.stderr.write(`bench: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = error instanceof TypeError ? 2 : 1;
}
