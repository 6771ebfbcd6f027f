// The server under measurement, in a process of its own.
import { type App, createApp } from "../../server/app.ts";
import { checkSettings } from "../../server/settings.ts";
import { answer } from "./child.ts";
import { setUpSite } from "./set-up.ts";

export interface StartWish {
  readonly data: string;
  /** Zones to set up before the doors open; 0 for a folder that has its site. */
  readonly zones: number;
  readonly mqttUrl?: string;
}

export interface Started {
  readonly httpUrl: string;
  readonly mqttUrl: string;
  /** From before the composition: doors open, first zone judged, ms. */
  readonly doorsMs: number;
  readonly firstVerdictMs: number;
}

const nextTurn = () => new Promise<void>((resolve) => setImmediate(resolve));

let app: App | null = null;
const running = (): App => {
  if (app === null) throw new Error("not started");
  return app;
};

answer({
  async start({ data, zones, mqttUrl }: StartWish): Promise<Started> {
    const checked = checkSettings({
      data,
      httpPort: 0,
      mqttPort: 0,
      logLevel: "error",
      ...(mqttUrl === undefined ? {} : { mqttUrl }),
    });
    if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
    const startMs = performance.now();
    app = createApp(checked.value, { dashboardDir: null });
    if (zones > 0) await setUpSite(app, zones);
    const urls = await app.start();
    const doorsMs = performance.now() - startMs;
    while ((app.desk.health().counters.judged ?? 0) === 0) await nextTurn();
    return { ...urls, doorsMs, firstVerdictMs: performance.now() - startMs };
  },
  counters: () => running().desk.health().counters,
  async stop() {
    await running().stop();
  },
});
