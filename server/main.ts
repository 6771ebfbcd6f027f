// The process: settings, signals, start, and a stop within its deadline.
import { existsSync } from "node:fs";
import { pino } from "pino";
import { createApp } from "./app.ts";
import { redacted, settingsFromEnv } from "./settings.ts";

if (existsSync(".env")) process.loadEnvFile(".env");
const read = settingsFromEnv(process.env);
if (!read.ok) {
  for (const { field, reason } of read.faults) process.stderr.write(`${field} ${reason}\n`);
  process.exit(2);
}
const settings = read.value;
const logger = pino({ level: settings.logLevel });

let stopping = false;
async function run(): Promise<void> {
  logger.info(redacted(settings), "settings");
  const app = createApp(settings, { logger });

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

  const { httpUrl, mqttUrl } = await app.start();
  logger.info({ httpUrl, mqttUrl }, "ready");
  if (!existsSync(new URL("../dashboard/dist/index.html", import.meta.url))) {
    logger.warn({}, "the dashboard is not built: run `npm run build` for it; judging and the API work without");
  }
}

run().catch((error: unknown) => {
  logger.fatal({ err: error }, "not started");
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(1);
});
