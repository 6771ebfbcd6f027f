// What the command line of `npm run sim` asks for: read strictly, every refusal names its option.
import { readFileSync } from "node:fs";
import { brokerOption, idOption, numberOption, OptionError, readOptions, timeOption } from "./cli.ts";
import { type LinkFaults, readFaults } from "./link/faults.ts";
import type { BrokerAt } from "./link/mqtt-node.ts";
import { scenarioNamed } from "./scenario/list.ts";
import type { Scenario } from "./scenario/scenario.ts";

export const SIM_HELP = `Simulated nodes on a simulated building, publishing SenML over MQTT to any broker.

  npm run sim -- --url mqtt://127.0.0.1:1883

  --url URL           broker (default mqtt://127.0.0.1:1883)
  --username NAME     name for the broker
  --password TEXT     password for the broker
  --ca FILE           certificate of the authority behind the broker's own, PEM (for mqtts://)
  --join SECRET       knock with the site's join secret, and send once let in (instead of --username)
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
  ca: { type: "string" },
  join: { type: "string" },
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

function linkFaults(texts: readonly string[]): LinkFaults {
  try {
    return readFaults(texts);
  } catch (error) {
    throw new OptionError(`--fault: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function authority(file: string): string {
  try {
    return readFileSync(file, "utf8");
  } catch (error) {
    throw new OptionError(`--ca: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function pickScenario(id: string) {
  try {
    return scenarioNamed(id);
  } catch (error) {
    throw new OptionError(`--scenario: ${error instanceof Error ? error.message : String(error)}`);
  }
}

export interface SimRun {
  readonly scenario: Scenario;
  readonly broker: BrokerAt;
  /** The secret to knock with; null = sign in as `broker` says. */
  readonly joinSecret: string | null;
  readonly faults: LinkFaults;
  readonly pace: number;
  readonly backfillH: number;
  /** Simulated hours after which it stops; null = never. */
  readonly hours: number | null;
}

export type SimPlan =
  | { readonly do: "help" }
  | { readonly do: "list" }
  | { readonly do: "write"; readonly scenario: Scenario; readonly file: string }
  | { readonly do: "publish"; readonly run: SimRun };

/** `nowMs`: where the scenario is laid unless `--from` says otherwise. */
export function simPlan(args: readonly string[], nowMs: number): SimPlan {
  const options = readOptions(args, OPTIONS);
  if (options.help) return { do: "help" };
  if (options.list) return { do: "list" };
  const named = pickScenario(options.scenario);
  const openedAtMs = options.from === undefined ? nowMs : timeOption("from", options.from);
  const made = named.make(openedAtMs, numberOption("seed", options.seed, 0, 2 ** 31, true));
  const scenario =
    options.site === undefined ? made : { ...made, site: { ...made.site, id: idOption("site", options.site) } };
  if (options.out !== undefined) return { do: "write", scenario, file: options.out };
  if (options.join !== undefined && (options.username ?? options.password) !== undefined)
    throw new OptionError("--join brings a name and password for each node; leave --username and --password out");
  const broker = {
    url: brokerOption(options.url),
    ...(options.username === undefined ? {} : { username: options.username }),
    ...(options.password === undefined ? {} : { password: options.password }),
    ...(options.ca === undefined ? {} : { ca: authority(options.ca) }),
  };
  return {
    do: "publish",
    run: {
      scenario,
      broker,
      joinSecret: options.join ?? null,
      faults: linkFaults(options.fault),
      pace: numberOption("pace", options.pace, 0.1, 3600),
      backfillH: numberOption("backfill", options.backfill, 0, 54),
      hours: options.hours === undefined ? null : numberOption("hours", options.hours, 0.01, 10_000),
    },
  };
}
