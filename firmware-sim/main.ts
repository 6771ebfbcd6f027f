// The command `npm run sim`: a scenario's nodes against any broker, or written as a night file.
import { writeFileSync } from "node:fs";
import { brokerOption, idOption, numberOption, OptionError, readOptions, timeOption } from "./cli.ts";
import { pacedClock } from "./clock.ts";
import { Fleet } from "./fleet.ts";
import { type LinkFaults, readFaults } from "./link/faults.ts";
import type { BrokerAt } from "./link/mqtt-node.ts";
import { scenarioNamed, SCENARIOS } from "./scenario/list.ts";
import { nightFileOf } from "./scenario/night-file.ts";
import { readingsUntil } from "./scenario/play.ts";
import type { Scenario } from "./scenario/scenario.ts";

const HELP = `Simulated nodes on a simulated building, publishing SenML over MQTT to any broker.

  npm run sim -- --url mqtt://127.0.0.1:1883

  --url URL           broker (default mqtt://127.0.0.1:1883)
  --username NAME     name for the broker
  --password TEXT     password for the broker
  --site ID           site id in the topics (default: the scenario's own)
  --scenario ID       which building and nodes (default heron-reach); --list shows all
  --list              list the scenarios and stop
  --seed N            weather, sensors and faults repeat with the same seed (default 1)
  --fault NAME=VALUE  faults of the link, may be given several times:
                      drop=SHARE repeat=SHARE reorder=SHARE delay=SECONDS skew=SECONDS
  --from TIME         lay the scenario at this moment instead of now, such as 2026-02-03T18:00:00Z
  --pace N            seconds of simulated time in one second (default 1)
  --backfill HOURS    send the past HOURS first, as late packets (default 0, at most 54)
  --hours N           stop after N simulated hours (default: run until Ctrl-C)
  --out FILE          write a night file instead of publishing
  --help              this text
`;

const OPTIONS = {
  url: { type: "string", default: "mqtt://127.0.0.1:1883" },
  username: { type: "string" },
  password: { type: "string" },
  site: { type: "string" },
  scenario: { type: "string", default: "heron-reach" },
  list: { type: "boolean", default: false },
  seed: { type: "string", default: "1" },
  fault: { type: "string", multiple: true, default: [] },
  from: { type: "string" },
  pace: { type: "string", default: "1" },
  backfill: { type: "string", default: "0" },
  hours: { type: "string" },
  out: { type: "string" },
  help: { type: "boolean", default: false },
} as const;

const say = (text: string) => process.stdout.write(`${text}\n`);

function linkFaults(texts: readonly string[]): LinkFaults {
  try {
    return readFaults(texts);
  } catch (error) {
    throw new OptionError(`--fault: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function pickScenario(id: string) {
  try {
    return scenarioNamed(id);
  } catch (error) {
    throw new OptionError(`--scenario: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function writeNightFile(scenario: Scenario, file: string): void {
  const readings = readingsUntil(scenario, scenario.openedAtMs);
  const ask = scenario.zones.map((zone) => ({ atMs: scenario.openedAtMs, zone: zone.id }));
  try {
    writeFileSync(
      file,
      `${JSON.stringify(nightFileOf(scenario, readings, ask, scenario.expect)).replaceAll("},{", "},\n{")}\n`,
    );
  } catch (error) {
    throw new OptionError(`--out: ${error instanceof Error ? error.message : String(error)}`);
  }
  say(`${file}: ${readings.length} readings of ${scenario.nodes.length} nodes, ${ask.length} asks`);
}

interface Run {
  readonly scenario: Scenario;
  readonly broker: BrokerAt;
  readonly faults: LinkFaults;
  readonly pace: number;
  readonly backfillH: number;
  readonly hours: number | null;
}

async function publish({ scenario, broker, faults, pace, backfillH, hours }: Run): Promise<number> {
  const stopping = new AbortController();
  let refused = false;
  const told = new Set<string>();
  const clock = pacedClock(scenario.openedAtMs, pace);
  const fleet = new Fleet(scenario, {
    site: scenario.site.id,
    broker,
    faults,
    seed: scenario.seed,
    clock,
    say: (node, what, why) => {
      if (what === "refused") {
        refused = true;
        stopping.abort();
      }
      // Six nodes lose one broker together: that is one line.
      if (what === "connected") told.clear();
      else if (!told.has(why)) process.stderr.write(`${node} ${what}: ${why}\n`);
      told.add(why);
    },
  });
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => stopping.abort());
  fleet.rememberUntil(scenario.openedAtMs, scenario.openedAtMs - backfillH * 3_600_000);
  say(
    `${scenario.nodes.length} nodes of ${scenario.id} go to ${broker.url} as site ${scenario.site.id}; ${fleet.waiting()} rounds of the past wait. Ctrl-C stops.`,
  );
  if (await fleet.connect(stopping.signal, Number.POSITIVE_INFINITY)) say("the past is sent; the nodes are live");
  await fleet.live(
    stopping.signal,
    hours === null ? Number.POSITIVE_INFINITY : scenario.openedAtMs + hours * 3_600_000,
  );
  await fleet.stop();
  if (refused) process.stderr.write("sim: the broker refuses --username and --password\n");
  return refused ? 1 : 0;
}

async function main(args: readonly string[]): Promise<number> {
  const options = readOptions(args, OPTIONS);
  if (options.help) {
    process.stdout.write(HELP);
    return 0;
  }
  if (options.list) {
    for (const { id, title } of SCENARIOS) say(`${id.padEnd(16)} ${title}`);
    return 0;
  }
  const named = pickScenario(options.scenario);
  const made = named.make(
    options.from === undefined ? Date.now() : timeOption("from", options.from),
    numberOption("seed", options.seed, 0, 2 ** 31, true),
  );
  const scenario =
    options.site === undefined ? made : { ...made, site: { ...made.site, id: idOption("site", options.site) } };
  if (options.out !== undefined) {
    writeNightFile(scenario, options.out);
    return 0;
  }
  return publish({
    scenario,
    broker: {
      url: brokerOption(options.url),
      ...(options.username === undefined ? {} : { username: options.username }),
      ...(options.password === undefined ? {} : { password: options.password }),
    },
    faults: linkFaults(options.fault),
    pace: numberOption("pace", options.pace, 0.1, 3600),
    backfillH: numberOption("backfill", options.backfill, 0, 54),
    hours: options.hours === undefined ? null : numberOption("hours", options.hours, 0.01, 10_000),
  });
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof OptionError)) throw error;
  process.stderr.write(`sim: ${error.message}\n(--help lists the options)\n`);
  process.exitCode = 2;
}
