// The command `npm run many-sites`: what the servers of many sites would say, through one broker, for an office to hear.
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { brokerOption, numberOption, OptionError, readOptions } from "../cli.ts";
import { callsOfNight } from "./pool.ts";
import { SaidSite } from "./site.ts";

const HELP = `What the servers of many sites would say, published through one broker for an office to hear.

  npm run many-sites -- --url mqtt://127.0.0.1:1883

  --url URL        broker (default mqtt://127.0.0.1:1883)
  --username NAME  name for the broker
  --password TEXT  password for the broker
  --sites N        how many sites (default 100)
  --zones N        zones of each (default 12)
  --silent N       so many of them speak once and then no more (default 3)
  --every S        seconds between two words of a site (default 60)
  --nights DIR     night files whose calls are told (default tests/golden/nights)
  --judge N        so many of these nights are judged first (default 12)
  --seed N         the same seed gives the same sites (default 1)
`;

const OPTIONS = {
  url: { type: "string", default: "mqtt://127.0.0.1:1883" },
  username: { type: "string" },
  password: { type: "string" },
  sites: { type: "string", default: "100" },
  zones: { type: "string", default: "12" },
  silent: { type: "string", default: "3" },
  every: { type: "string", default: "60" },
  nights: { type: "string", default: "tests/golden/nights" },
  judge: { type: "string", default: "12" },
  seed: { type: "string", default: "1" },
  help: { type: "boolean", default: false },
} as const;
const MOMENTS = 10;
const say = (text: string) => process.stdout.write(`${text}\n`);

/** Some of the nights, spread over the folder, so that all kinds of them are among these. */
function nightsIn(folder: string, most: number): unknown[] {
  const names = readdirSync(folder)
    .filter((name) => name.endsWith(".json"))
    .sort();
  if (names.length === 0) throw new OptionError(`--nights: no night file in ${folder}`);
  const count = Math.min(most, names.length);
  return Array.from({ length: count }, (_, k) => {
    const name = names[Math.floor((k * names.length) / count)] as string;
    return JSON.parse(readFileSync(join(folder, name), "utf8")) as unknown;
  });
}

async function main(args: readonly string[]): Promise<void> {
  const options = readOptions(args, OPTIONS);
  if (options.help) {
    say(HELP);
    return;
  }
  const count = numberOption("sites", options.sites, 1, 2000, true);
  const zones = numberOption("zones", options.zones, 1, 100, true);
  const silent = numberOption("silent", options.silent, 0, count, true);
  const everyS = numberOption("every", options.every, 1, 3600);
  const seed = numberOption("seed", options.seed, 0, 2 ** 31, true);
  const files = nightsIn(options.nights, numberOption("judge", options.judge, 1, 100, true));
  const client = await connectAsync(brokerOption(options.url), {
    protocolVersion: 5,
    ...(options.username === undefined ? {} : { username: options.username }),
    ...(options.password === undefined ? {} : { password: options.password }),
  });
  const nights = files.map((file) => callsOfNight(file, MOMENTS));
  say(`${nights.reduce((sum, night) => sum + night.length, 0)} calls judged of ${nights.length} nights`);
  const sites = Array.from({ length: count }, (_, index) => new SaidSite(nights, seed, index, zones, everyS));
  let words = 0;
  const tell = async (site: SaidSite) => {
    for (const { topic, body, retain } of site.words(Date.now())) {
      await client.publishAsync(topic, JSON.stringify(body), { qos: 1, retain });
      words += 1;
    }
  };
  for (const site of sites) await tell(site);
  say(`${count} sites of ${zones} zones have spoken: ${words} words; Ctrl-C ends`);
  const timers = sites
    .slice(0, count - silent)
    .map((site, index) =>
      setTimeout(
        () =>
          timers.push(setInterval(() => void tell(site).catch((error: unknown) => say(String(error))), everyS * 1000)),
        (index * everyS * 1000) / count,
      ),
    );
  process.once("SIGINT", () => {
    for (const timer of timers) clearInterval(timer);
    void client.endAsync();
  });
}

main(process.argv.slice(2)).catch((error: unknown) => {
  process.stderr.write(`${error instanceof OptionError ? error.message : String(error)}\n`);
  process.exitCode = 2;
});
