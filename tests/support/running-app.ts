// The whole server in a test: its own data folder, a clock in the test's hands, free ports, and a client on its broker.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { connectAsync, type IClientOptions, type MqttClient } from "mqtt";
import { expect } from "vitest";
import type { HealthBody } from "#contract/health.ts";
import { topicOf } from "#contract/topics.ts";
import { type App, createApp } from "../../server/app.ts";
import type { Answer } from "../../server/http/answer.ts";
import type { Judge } from "../../server/live/ports.ts";
import { checkSettings } from "../../server/settings.ts";
import { fakeJudge } from "./fake-judge.ts";
import { NODE, NOON_MS, OUTDOORS, SHEET, SITE, ZONE } from "./small-site.ts";

export interface AppWishes {
  data?: string;
  settings?: object;
  judge?: Judge;
  /** The time that the server's clock shows at first; it runs on from there. */
  atMs?: number;
  /** How much faster than the wall clock the server's clock runs; 1 unless given. */
  pace?: number;
  /** Leave the site out. */
  empty?: boolean;
  /** Folder of the built dashboard; none unless given. */
  dashboardDir?: string;
  /** Leave the doors shut. */
  shut?: boolean;
}

export interface RunningApp {
  app: App;
  data: string;
  httpUrl: string;
  mqttUrl: string;
  /** Makes the first owner when accounts are on. */
  firstOwnerCode: string | null;
  nowMs(): number;
  /** Sets the server's clock on (or back). */
  moveClock(ms: number): void;
  client(options?: IClientOptions): Promise<MqttClient>;
  /** Publishes with QoS 1 and waits for the acknowledgement. */
  send(body: unknown, options?: { topic?: string; retain?: boolean; raw?: boolean }): Promise<void>;
  stop(): Promise<void>;
  /** Stops and deletes the data folder. */
  end(): Promise<void>;
}

export function valueOf<T>(answer: Answer<T>): T {
  if (!answer.ok) expect.fail(JSON.stringify(answer.faults));
  return answer.value;
}

export async function setUp(app: App): Promise<void> {
  valueOf(await app.desk.addSite(SITE));
  valueOf(await app.desk.putSheet(SHEET));
  valueOf(await app.desk.putZone(SITE.id, ZONE, "add"));
  valueOf(await app.desk.putNode(SITE.id, NODE, "add"));
  valueOf(await app.desk.putNode(SITE.id, OUTDOORS, "add"));
}

export async function runApp(wishes: AppWishes = {}): Promise<RunningApp> {
  const data = wishes.data ?? (await mkdtemp(join(tmpdir(), "nightslab-app-")));
  const checked = checkSettings({ data, httpPort: 0, mqttPort: 0, logLevel: "silent", ...wishes.settings });
  if (!checked.ok) throw new Error(JSON.stringify(checked.faults));
  const pace = wishes.pace ?? 1;
  const startedMs = Date.now();
  let baseMs = wishes.atMs ?? NOON_MS;
  const nowMs = () => baseMs + (Date.now() - startedMs) * pace;
  const app = createApp(checked.value, {
    clock: { nowMs, pace },
    judge: wishes.judge ?? fakeJudge(),
    dashboardDir: wishes.dashboardDir ?? null,
    // What a busy machine leaves out is no part of what these tests look at.
    pagePatienceMs: 60_000,
  });
  if (wishes.empty !== true) await setUp(app);
  const { httpUrl, mqttUrl, firstOwnerCode } =
    wishes.shut === true ? { httpUrl: "", mqttUrl: "", firstOwnerCode: null } : await app.start();
  const clients: MqttClient[] = [];
  const client = async (options: IClientOptions = {}) => {
    const connected = await connectAsync(mqttUrl, { reconnectPeriod: 0, connectTimeout: 5000, ...options });
    clients.push(connected);
    return connected;
  };
  let usual: MqttClient | null = null;
  let stopped = false;
  const stop = async () => {
    if (stopped) return;
    stopped = true;
    await Promise.all(clients.map((one) => one.endAsync(true)));
    await app.stop();
  };
  return {
    app,
    data,
    httpUrl,
    mqttUrl,
    firstOwnerCode,
    nowMs,
    moveClock(ms) {
      baseMs += ms;
    },
    client,
    async send(
      body,
      { topic = topicOf({ kind: "senml", site: SITE.id, node: NODE.id }), retain = false, raw = false } = {},
    ) {
      usual ??= await client();
      await usual.publishAsync(topic, raw ? (body as string) : JSON.stringify(body), { qos: 1, retain });
    },
    stop,
    async end() {
      await stop();
      await rm(data, { recursive: true, force: true });
    },
  };
}

/** What stands in quarantine for a node, as the sensors page shows it. */
export function troubleOf(running: RunningApp, node: string): { count: number; reason: string | null } {
  const state = valueOf(running.app.desk.nodes(SITE.id)).find((one) => one.node.id === node);
  return { count: state?.quarantined ?? 0, reason: state?.lastReason ?? null };
}

export function counter(running: RunningApp, name: string): number {
  const health: HealthBody = running.app.desk.health();
  return health.counters[name] ?? 0;
}

/** Asks again until it is so; the time is a limit, not a measure. */
export async function until(isSo: () => boolean | Promise<boolean>, within = 40_000): Promise<void> {
  const deadline = performance.now() + within;
  while (!(await isSo())) {
    if (performance.now() > deadline) expect.fail(`not so within ${within} ms: ${isSo.toString()}`);
    await new Promise((resolve) => setTimeout(resolve, 15));
  }
}
