// Options of the demo.
import { numberOption, readOptions } from "../cli.ts";

export const DEMO_HELP = `The whole product with an invented boathouse in it: broker, store, dashboard and simulated nodes
with two days and nights behind them. Needs no hardware and no internet.

  npm run demo

  --port N      port of the dashboard on 127.0.0.1 (default 8080; 0 = any free port)
  --mqtt-port N port of the broker on 127.0.0.1 (default any free port; it is printed)
  --data DIR    keep what the server stores in DIR (default: a temporary folder, removed at the end)
  --seed N      another night, other sensors (default 1)
  --fast        time-lapse: the night ahead goes by at 720 times its speed, 36 hours in 3 minutes
  --pace N      time-lapse at N times (1 to 3600)
  --once        print the five calls and stop: exit code 0 if they are as they should be, else 1
  --help        this text
`;

export interface DemoOptions {
  readonly help: boolean;
  readonly port: number;
  readonly mqttPort: number;
  readonly dataDir: string | null;
  readonly seed: number;
  readonly pace: number;
  readonly once: boolean;
}

const FAST_PACE = 720;

export function demoOptions(args: readonly string[]): DemoOptions {
  const options = readOptions(args, {
    port: { type: "string", default: "8080" },
    "mqtt-port": { type: "string", default: "0" },
    data: { type: "string" },
    seed: { type: "string", default: "1" },
    fast: { type: "boolean", default: false },
    pace: { type: "string" },
    once: { type: "boolean", default: false },
    help: { type: "boolean", default: false },
  });
  const usualPace = options.fast ? FAST_PACE : 1;
  return {
    help: options.help,
    port: numberOption("port", options.port, 0, 65_535, true),
    mqttPort: numberOption("mqtt-port", options["mqtt-port"], 0, 65_535, true),
    dataDir: options.data ?? null,
    seed: numberOption("seed", options.seed, 0, 2 ** 31, true),
    pace: options.pace === undefined ? usualPace : numberOption("pace", options.pace, 1, 3600),
    once: options.once,
  };
}
