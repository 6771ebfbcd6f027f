// The command that breaks things on purpose: each trial ends with all readings and the same calls as one that nobody disturbed.
import { parseArgs } from "node:util";
import { cpus } from "node:os";
import { brokerKilled, influxAway } from "./chaos/trials-beside.ts";
import { crowd, hostile } from "./chaos/trials-guests.ts";
import { clockStepped, diskFull, killed, smallDisk, undisturbed } from "./chaos/trials-server.ts";
import { type Account, FULL, type Play, runTrial, SHORT } from "./chaos/trial.ts";

const HELP = `Breaks things on purpose, and compares what is kept and called at the end with a run that nobody disturbed.

  npm run chaos
  npm run chaos -- --only kill --short

  --only NAME   one trial, or some with commas between them: kill, broker, influx, disk, clock, hostile, crowd
  --short       a small version of each
  --seed S      whole number from which kills and messages are drawn (default 1)
  --kills N     kills of the server (default 50, short 3)
  --built       the server as npm run build made it, instead of its sources: it starts faster
  --help        this text

The disk trial needs root (a small disk in memory), broker and influx need mosquitto and influxd.
Exit code 0 if nothing was lost or doubled and all calls are the same, 1 otherwise, 2 if it could not run.
`;

const TRIALS: Readonly<Record<string, { readonly play: Play; readonly data?: (folder: string) => string }>> = {
  kill: { play: killed },
  broker: { play: brokerKilled },
  influx: { play: influxAway },
  disk: { play: diskFull, data: smallDisk },
  clock: { play: clockStepped },
  hostile: { play: hostile },
  crowd: { play: crowd },
};

const rowOf = (name: string, account: Account, same: string, tookS: number): string =>
  `| ${name} | ${account.said} | ${account.acknowledged} (${account.repeated} sent again) | ${account.lost} | ${account.doubled + account.wrong} | ${same} | ${tookS} |`;

/** The first call that differs, for whoever has to look into it. */
function difference(calls: readonly string[], expected: readonly string[]): string | null {
  const index = expected.findIndex((call, at) => call !== calls[at]);
  if (index < 0 && calls.length === expected.length) return null;
  return `  expected ${expected[index] ?? "(no more)"}\n  found    ${calls[index] ?? "(no more)"}`;
}

async function main(): Promise<number> {
  const { values } = parseArgs({
    options: {
      only: { type: "string" },
      short: { type: "boolean", default: false },
      seed: { type: "string", default: "1" },
      kills: { type: "string" },
      built: { type: "boolean", default: false },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return 0;
  }
  const seed = Number(values.seed);
  if (!Number.isInteger(seed) || seed < 0) throw new RangeError("--seed takes a whole number from 0");
  const names = values.only === undefined ? Object.keys(TRIALS) : values.only.split(",");
  const unknown = names.find((name) => TRIALS[name] === undefined);
  if (unknown !== undefined)
    throw new RangeError(`--only takes one of ${Object.keys(TRIALS).join(", ")}, not "${unknown}"`);
  const usual = values.short ? SHORT : FULL;
  const kills = values.kills === undefined ? usual.kills : Number(values.kills);
  if (!Number.isInteger(kills) || kills < 1 || kills > usual.kills)
    throw new RangeError(`--kills takes a whole number from 1 to ${usual.kills}`);
  const sizes = { ...usual, kills, seed, built: values.built };
  const out = (line: string) => process.stdout.write(`${line}\n`);
  out(
    `${new Date().toISOString().slice(0, 10)}, ${cpus().length} cores (${cpus()[0]?.model.trim() ?? "unknown"}), Node ${process.versions.node}, seed ${seed}${values.short ? ", short" : ""}\n`,
  );
  out("| trial | what was done | packs acknowledged | readings lost | doubled or wrong | calls as undisturbed | s |");
  out("|---|---|---|---|---|---|---|");
  let bad = 0;
  const timed = async (play: Play, data?: (folder: string) => string) => {
    const startedMs = performance.now();
    const account = await runTrial(sizes, play, data);
    return { account, tookS: Math.round((performance.now() - startedMs) / 1000) };
  };
  const reference = await timed(undisturbed);
  const { calls } = reference.account;
  const kinds = new Set(calls.map((call) => /zone-\d+ (\S+ \S+)/.exec(call)?.[1]));
  out(rowOf("none", reference.account, `${calls.length}, of ${kinds.size} kinds`, reference.tookS));
  for (const name of names) {
    const trial = TRIALS[name] as (typeof TRIALS)[string];
    try {
      const { account, tookS } = await timed(trial.play, trial.data);
      const differs = difference(account.calls, calls);
      out(rowOf(name, account, differs === null ? `all ${calls.length}` : "NOT", tookS));
      if (differs !== null) process.stderr.write(`${name}: a call differs\n${differs}\n`);
      if (differs !== null || account.lost + account.doubled + account.wrong > 0) bad += 1;
    } catch (error) {
      bad += 1;
      out(
        `| ${name} | not finished: ${error instanceof Error ? (error.message.split("\n")[0] ?? "") : String(error)} | | | | | |`,
      );
      process.stderr.write(`${name}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    }
  }
  return bad === 0 ? 0 : 1;
}

try {
  process.exitCode = await main();
} catch (error) {
  process.stderr.write(`chaos: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
