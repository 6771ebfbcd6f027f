// The process: settings, signals, start, and a stop within its deadline.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { createApp, type Started } from "./app.ts";
import { keepHeapNear } from "./heap.ts";
import { home } from "./home.ts";
import { createLogger } from "./logging.ts";
import { redacted, settingsFromEnv } from "./settings.ts";
import { createShards } from "./shards.ts";
import { warnings } from "./ways-in.ts";

keepHeapNear();
if (existsSync(".env")) process.loadEnvFile(".env");
const read = settingsFromEnv(process.env);
if (!read.ok) {
  for (const { field, reason } of read.faults) process.stderr.write(`${field} ${reason}\n`);
  process.exit(2);
}
const settings = read.value;
const logger = createLogger(settings.logLevel);

/** The server of the data folder, or those of a folder of shards. */
function appOf(): { start(): Promise<void>; stop(): Promise<void> } {
  if (settings.shards === undefined) {
    const app = createApp(settings, { logger });
    return { start: async () => ready(await app.start()), stop: () => app.stop() };
  }
  return createShards({
    ...{ folder: settings.shards, settings, log: logger },
    makeApp: (own) => createApp(own, { logger }),
    opened: (shard, started) => ready(started, shard),
  });
}

function ready({ httpUrl, mqttUrl, firstOwnerCode }: Started, shard?: string): void {
  logger.info({ httpUrl, mqttUrl, ...(shard === undefined ? {} : { shard }) }, "ready");
  // To the terminal and not to the log, which others may be given to read.
  if (firstOwnerCode !== null) {
    process.stderr.write(
      `\nThis server has no owner yet. Open ${httpUrl} in a browser and type this code within 24 hours; it works once:\n\n    ${firstOwnerCode}\n\n`,
    );
  }
}

let stopping = false;
async function run(): Promise<void> {
  logger.info(redacted(settings), "settings");
  for (const warning of warnings(settings)) logger.warn({}, warning);
  const app = appOf();

  const stop = (why: string): void => {
    if (stopping) return;
    stopping = true;
    logger.info({ why }, "stopping");
    // What cannot end in time is cut off; whatever was acknowledged is on the disk already.
    setTimeout(() => {
      logger.error({ deadlineS: settings.stopDeadlineS }, "not stopped in time");
      process.exit(1);
    }, settings.stopDeadlineS * 1000).unref();
    app.stop().then(
      () => {
        logger.info({}, "stopped");
        process.exitCode ??= 0;
      },
      (error: unknown) => {
        logger.error({ err: error }, "stopping failed");
        process.exit(1);
      },
    );
  };
  process.on("SIGINT", () => stop("SIGINT"));
  process.on("SIGTERM", () => stop("SIGTERM"));

  await app.start();
  if (!existsSync(join(home(), "dashboard", "dist", "index.html"))) {
    logger.warn({}, "the dashboard is not built: run `npm run build` for it; judging and the API work without");
  }
}

run().catch((error: unknown) => {
  logger.fatal({ err: error }, "not started");
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(1);
});
