// The log of the process: one line of JSON a thing, and no secret in it, whatever is handed to it.
import { type DestinationStream, type Logger, pino } from "pino";

/** Names under which secrets are handed around. The ends of addresses that hold tokens never leave a browser. */
const SECRETS = [
  ...["password", "current", "token", "cookie", "cookies", "authorization", "joinSecret", "mqttPassword", "secret"],
  ...["session", "device"],
] as const;
const PATHS = [
  ...SECRETS.flatMap((name) => [name, `*.${name}`, `*.*.${name}`, `*.*.*.${name}`]),
  ...["", "*", "*.*"].map((at) => `${at}["set-cookie"]`),
  // Elsewhere a code is that of an error.
  ...["body.code", "*.body.code", "*.*.body.code"],
];

export function createLogger(level: string, destination?: DestinationStream): Logger {
  const options = { level, redact: { paths: PATHS, censor: "(secret)" } };
  return destination === undefined ? pino(options) : pino(options, destination);
}
