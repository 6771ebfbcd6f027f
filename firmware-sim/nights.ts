// The command that plays the real-weather nights and writes them as night files, with what was truly so beside them.
import { mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { parseArgs } from "node:util";
import { readNightFile } from "#contract/night-file.ts";
import { NIGHTS } from "./night/recipes.ts";
import { ASK_HOURS, feedOf, HOUR_MS, scenarioOf } from "./night/night.ts";
import { stationOf, weatherHours } from "./night/stations.ts";
import { judgedLines, trueLines } from "./night/timeline.ts";
import { nightFileOf } from "./scenario/night-file.ts";
import { readingsUntil } from "./scenario/play.ts";
import { SHED_ZONE } from "./scenario/shed.ts";

const HELP = `Plays nights of real weather over simulated floors.

  npx tsx firmware-sim/nights.ts --out tests/golden/nights

  --out FOLDER      night files go here, one a night; truth.txt and timeline.txt beside the folder
  --weather FOLDER  weather series (default tests/reference/weather)
  --seed N          noise of the sensors (default 1)
  --judge           also judge every night and write timeline.txt (what tests/golden compares with)
  --help            this text
`;

/** Quantities that a judge needs; the rest would only make the files long. */
const KEPT = /^(slab(\.\d+)?|air|rh)$/;

function write(folder: string, weather: string, seed: number, judge: boolean): void {
  mkdirSync(folder, { recursive: true });
  for (const name of readdirSync(folder)) if (name.endsWith(".json")) rmSync(join(folder, name));
  const truth: string[] = [];
  const timeline: string[] = [];
  for (const recipe of NIGHTS) {
    const hours = weatherHours(weather, stationOf(recipe.station));
    const scenario = scenarioOf(recipe, hours, seed);
    const asks = ASK_HOURS.map((after) => ({ atMs: scenario.openedAtMs + after * HOUR_MS, zone: SHED_ZONE }));
    const lastMs = Math.max(...asks.map((ask) => ask.atMs));
    const readings = readingsUntil(scenario, lastMs).filter((reading) => KEPT.test(reading.quantity));
    const body = { ...nightFileOf(scenario, readings, asks), ...feedOf(recipe, hours) };
    writeFileSync(join(folder, `${recipe.id}.json`), `${JSON.stringify(body)}\n`);
    const head = `${recipe.id}  ${recipe.title}  (${recipe.station}, ${recipe.evening})`;
    truth.push(head, ...trueLines(scenario, SHED_ZONE), "");
    if (!judge) continue;
    const read = readNightFile(JSON.parse(JSON.stringify(body)));
    if (!read.ok) throw new Error(`${recipe.id} is not a night file: ${JSON.stringify(read.faults)}`);
    timeline.push(head, ...judgedLines(read.value), "");
  }
  writeFileSync(join(dirname(folder), "truth.txt"), truth.join("\n"));
  if (judge) writeFileSync(join(dirname(folder), "timeline.txt"), timeline.join("\n"));
  process.stdout.write(`${NIGHTS.length} nights written to ${folder}\n`);
}

try {
  const { values } = parseArgs({
    options: {
      out: { type: "string" },
      weather: { type: "string", default: "tests/reference/weather" },
      seed: { type: "string", default: "1" },
      judge: { type: "boolean", default: false },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help || values.out === undefined) process.stdout.write(HELP);
  else write(values.out.replace(/\/$/, ""), values.weather, Number(values.seed), values.judge);
} catch (error) {
  process.stderr.write(`nights: ${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
