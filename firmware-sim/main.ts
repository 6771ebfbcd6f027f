// The command `npm run sim`: a scenario's nodes against any broker, or written as a night file.
import { writeFileSync } from "node:fs";
import { OptionError } from "./cli.ts";
import { pacedClock } from "./clock.ts";
import { Fleet } from "./fleet.ts";
import { SCENARIOS } from "./scenario/list.ts";
import { nightFileOf } from "./scenario/night-file.ts";
import { joinSite, newFlash } from "./link/join.ts";
import type { BrokerAt } from "./link/mqtt-node.ts";
import { readingsUntil } from "./scenario/play.ts";
import type { Scenario } from "./scenario/scenario.ts";
import { SIM_HELP, simPlan, type SimRun } from "./sim-options.ts";

const KNOCK_MS = 5000;
const say = (text: string) => process.stdout.write(`${text}\n`);

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

/** Every node knocks until a person lets it in. */
async function letIn({ scenario, broker, joinSecret }: SimRun, signal: AbortSignal): Promise<Map<string, BrokerAt>> {
  if (joinSecret === null) return new Map();
  const at = { ...broker, site: scenario.site.id, joinSecret };
  say(`${scenario.nodes.length} nodes knock at ${broker.url}; let them in on the sensors page of ${scenario.site.id}.`);
  const all = await Promise.all(
    scenario.nodes.map(async (node) => {
      const own = await joinSite(node, at, newFlash(), KNOCK_MS, signal);
      if (own !== null) say(`${node.body.id} is let in`);
      return own === null ? [] : [[node.body.id, own] as const];
    }),
  );
  return new Map(all.flat());
}

async function publish(run: SimRun): Promise<number> {
  const { scenario, broker, faults, pace, backfillH, hours } = run;
  const stopping = new AbortController();
  for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => stopping.abort());
  const own = await letIn(run, stopping.signal);
  if (stopping.signal.aborted) return 0;
  let refused = false;
  const told = new Set<string>();
  const clock = pacedClock(scenario.openedAtMs, pace);
  const fleet = new Fleet(scenario, {
    site: scenario.site.id,
    broker,
    brokerOf: (node) => own.get(node) ?? broker,
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
  const plan = simPlan(args, Date.now());
  switch (plan.do) {
    case "help":
      process.stdout.write(SIM_HELP);
      return 0;
    case "list":
      for (const { id, title } of SCENARIOS) say(`${id.padEnd(16)} ${title}`);
      return 0;
    case "write":
      writeNightFile(plan.scenario, plan.file);
      return 0;
    case "publish":
      return publish(plan.run);
  }
}

try {
  process.exitCode = await main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof OptionError)) throw error;
  process.stderr.write(`sim: ${error.message}\n(--help lists the options)\n`);
  process.exitCode = 2;
}
