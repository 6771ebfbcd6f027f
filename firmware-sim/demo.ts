// The command `npm run demo`: server, dashboard and simulated nodes in one process, with a night already behind them.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { sayFaults } from "#contract/faults.ts";
import { type App, createApp } from "../server/app.ts";
import { checkSettings } from "../server/settings.ts";
import { OptionError } from "./cli.ts";
import { heldClock, sleep } from "./clock.ts";
import { Api } from "./demo/api.ts";
import { allAsExpected, sayCalls, seenCalls, type SeenCall } from "./demo/calls.ts";
import { playCrew } from "./demo/crew.ts";
import { buildDashboard } from "./demo/dashboard.ts";
import { DEMO_HELP, type DemoOptions, demoOptions } from "./demo/options.ts";
import { portIsFree } from "./demo/port.ts";
import { setUpSite } from "./demo/set-up.ts";
import { Fleet } from "./fleet.ts";
import { NO_FAULTS } from "./link/faults.ts";
import { heronReach } from "./scenario/heron-reach/demo-night.ts";
import type { Scenario } from "./scenario/scenario.ts";

const ROOT = fileURLToPath(new URL("..", import.meta.url));
const HOST = "127.0.0.1";
const CONNECT_MS = 60_000;
const CALLS_MS = 60_000;

const say = (text: string) => process.stdout.write(`${text}\n`);

/** Waits until the board says what the scenario expects; gives up with what it says by then. */
async function awaitCalls(api: Api, scenario: Scenario, signal: AbortSignal): Promise<readonly SeenCall[]> {
  const untilMs = Date.now() + CALLS_MS;
  for (;;) {
    const seen = seenCalls(await api.board(scenario.site.id), scenario);
    if (allAsExpected(seen, scenario) || signal.aborted || Date.now() > untilMs) return seen;
    await sleep(200, signal);
  }
}

function appOf(options: DemoOptions, data: string, clock: ReturnType<typeof heldClock>): App {
  const settings = checkSettings({ data, httpPort: options.port, mqttPort: options.mqttPort, logLevel: "error" });
  if (!settings.ok) throw new OptionError(sayFaults(settings.faults));
  return createApp(settings.value, { clock });
}

/** Plays the demo until `signal` fires; the exit code says whether the calls were as they should be. */
async function play(options: DemoOptions, data: string, signal: AbortSignal): Promise<number> {
  const scenario = heronReach(Date.now(), options.seed);
  // In a time-lapse time stands still until all is set up, so that the evening begins when somebody looks.
  const clock = heldClock(options.pace === 1 ? null : scenario.openedAtMs, options.pace);
  const app = appOf(options, data, clock);
  const { httpUrl, mqttUrl } = await app.start();
  const api = new Api(httpUrl);
  const fleet = new Fleet(scenario, {
    site: scenario.site.id,
    broker: { url: mqttUrl },
    faults: NO_FAULTS,
    seed: scenario.seed,
    clock,
    say: () => undefined,
  });
  try {
    await setUpSite(api, scenario);
    fleet.rememberUntil(scenario.openedAtMs);
    say(`${scenario.nodes.length} nodes bring ${fleet.waiting()} rounds of readings from the past 54 hours ...`);
    if (!(await fleet.connect(signal, CONNECT_MS)) && !signal.aborted)
      throw new Error("the nodes could not send their past to the broker");
    const seen = await awaitCalls(api, scenario, signal);
    const right = allAsExpected(seen, scenario);
    if (signal.aborted) return 0;
    say(`\n${scenario.site.name ?? scenario.site.id}\n${sayCalls(seen)}\n`);
    if (!right) say("These are not the calls that this night should bring.");
    if (options.once) return right ? 0 : 1;
    say(`Open ${httpUrl}\n`);
    say(
      `You will see five zones of a boathouse on a winter evening: one to pour, one to wait for the night's dew, one to`,
    );
    say(`abrade, one finished and curing, and one whose node fell silent. Nodes publish to ${mqttUrl}.`);
    if (options.pace !== 1)
      say(`Time-lapse: ${options.pace} times as fast; the crew coats, abrades and cleans as the night goes by.`);
    say("Ctrl-C stops.");
    clock.release();
    const crew = options.pace === 1 ? Promise.resolve() : playCrew(api, scenario, clock, signal);
    await Promise.all([fleet.live(signal), crew]);
    return 0;
  } finally {
    await fleet.stop();
    await app.stop();
  }
}

async function main(args: readonly string[]): Promise<number> {
  const options = demoOptions(args);
  if (options.help) {
    process.stdout.write(DEMO_HELP);
    return 0;
  }
  for (const [name, port] of [
    ["port", options.port],
    ["mqtt-port", options.mqttPort],
  ] as const) {
    if (port !== 0 && !(await portIsFree(HOST, port))) {
      throw new OptionError(`port ${port} on ${HOST} is taken; choose another with --${name} N`);
    }
  }
  await buildDashboard(ROOT, say);
  const stopping = new AbortController();
  for (const name of ["SIGINT", "SIGTERM"] as const) process.once(name, () => stopping.abort());
  const data = options.dataDir ?? (await mkdtemp(join(tmpdir(), "nightslab-demo-")));
  try {
    return await play(options, data, stopping.signal);
  } finally {
    if (options.dataDir === null) await rm(data, { recursive: true, force: true });
    if (stopping.signal.aborted) say("stopped");
  }
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  const wrong = error instanceof OptionError ? "\n(--help lists the options)" : "";
  process.stderr.write(`demo: ${error instanceof Error ? error.message : String(error)}${wrong}\n`);
  process.exitCode = error instanceof OptionError ? 2 : 1;
}
