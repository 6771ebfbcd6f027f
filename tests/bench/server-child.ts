// The server under measurement, in a process of its own.
import { type App, createApp } from "../../server/app.ts";
import { keepHeapNear } from "../../server/heap.ts";
import { checkSettings } from "../../server/settings.ts";
import { answer } from "./answer.ts";
import { setUpSite } from "./set-up.ts";

export interface StartWish {
  readonly data: string;
  /** Zones to set up before the doors open; 0 for a folder that has its site. */
  readonly zones: number;
  readonly mqttUrl?: string;
  /** Folder of the built dashboard, where a page is measured. */
  readonly dashboardDir?: string;
  /** A clock that stands until `setClock` moves it, epoch ms: for a day that passes in a minute. */
  readonly clockMs?: number;
  /** From `go` on the clock goes so many times as fast as that of the wall. */
  readonly times?: number;
}

/** What must not grow in a program that runs for weeks. */
export interface Held {
  readonly heapBytes: number;
  readonly handles: number;
  /** What the handles are, each with how many there are of it. */
  readonly handleNames: string;
  readonly listeners: number;
  readonly unhandled: number;
}

export interface Started {
  readonly httpUrl: string;
  readonly mqttUrl: string;
  /** From before the composition: doors open, first zone judged, ms. */
  readonly doorsMs: number;
  readonly firstVerdictMs: number;
}

/** An alarm is looked for this long after the last judging; then nothing is left that comes and goes by itself. */
const REST_MS = 700;
const sleep = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** Handles by name, in the order of the alphabet. */
function namesOf(handles: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const name of [...handles].sort()) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].map(([name, count]) => `${count} ${name}`).join(", ");
}

/** Resolves when nothing waits to be judged or written. */
async function atRest(): Promise<void> {
  const isBusy = () => {
    const { queueJudge = 0, queueLanding = 0 } = running().desk.health().counters;
    return queueJudge + queueLanding > 0;
  };
  while (isBusy()) await sleep(20);
  await sleep(REST_MS);
}

/** Handles that stay: of several looks the one with the fewest, since a timer may be due in any of them. */
async function handlesThatStay(): Promise<string[]> {
  let fewest = process.getActiveResourcesInfo();
  for (let look = 0; look < 5; look++) {
    await sleep(30);
    const handles = process.getActiveResourcesInfo();
    if (handles.length < fewest.length) fewest = handles;
  }
  return fewest;
}

const nextTurn = () => new Promise<void>((resolve) => setImmediate(resolve));

let app: App | null = null;
const running = (): App => {
  if (app === null) throw new Error("not started");
  return app;
};

keepHeapNear();
let movedMs = 0;
/** Since when the clock goes, epoch ms of the wall; null while it stands. */
let goneMs: number | null = null;
let unhandled = 0;
// Counted instead of ending the process, so that the bench can tell how many there were.
process.on("unhandledRejection", () => (unhandled += 1));

answer({
  async start({ data, zones, mqttUrl, dashboardDir, clockMs, times = 0 }: StartWish): Promise<Started> {
    const checked = checkSettings({
      data,
      httpPort: 0,
      mqttPort: 0,
      logLevel: "error",
      ...(mqttUrl === undefined ? {} : { mqttUrl }),
    });
    if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
    movedMs = clockMs ?? 0;
    const nowMs = () => movedMs + (goneMs === null ? 0 : Math.round((Date.now() - goneMs) * times));
    const startMs = performance.now();
    app = createApp(checked.value, {
      dashboardDir: dashboardDir ?? null,
      ...(clockMs === undefined ? {} : { clock: { nowMs, pace: Math.max(1, times) } }),
    });
    if (zones > 0) await setUpSite(app, zones);
    const urls = await app.start();
    const doorsMs = performance.now() - startMs;
    while ((app.desk.health().counters.judged ?? 0) === 0) await nextTurn();
    return { ...urls, doorsMs, firstVerdictMs: performance.now() - startMs };
  },
  counters: () => running().desk.health().counters,
  /** Resolves when so many zones have been judged since the start: at rest a large site may never be. */
  async judged(zones: number) {
    while ((running().desk.health().counters.judged ?? 0) < zones) await sleep(20);
  },
  setClock(atMs: number) {
    movedMs = atMs;
  },
  /** The clock says at `wallMs` what it said while it stood. */
  go(wallMs: number) {
    goneMs = wallMs;
  },
  async held(): Promise<Held> {
    await atRest();
    const handles = await handlesThatStay();
    globalThis.gc?.();
    return {
      heapBytes: process.memoryUsage().heapUsed,
      handles: handles.length,
      handleNames: namesOf(handles),
      listeners: process.eventNames().reduce((sum, name) => sum + process.listenerCount(name), 0),
      unhandled,
    };
  },
  async stop() {
    await running().stop();
  },
});
