// The server under trial, as its own process with its own clock, and what is asked of it over its doors.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { HealthBody } from "#contract/health.ts";
import { Api } from "../demo/api.ts";
import { FLOW_END_MS, journalOf, NODES, nodeBody, type Packs, SHEET, SITE, zoneBody } from "./floor.ts";
import { startProgram, until } from "./program.ts";
import { STEPPED_CLOCK } from "./stepped-clock.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
/** What `npm start` runs. */
const BUILT = "server/dist/main.js";
const START_WITHIN_MS = 240_000;

export interface TrialServer {
  readonly httpUrl: string;
  readonly mqttUrl: string;
  readonly api: Api;
  readonly pid: number;
  /** Sets its clock to this time; from there it runs on. */
  setClock(toMs: number): void;
  health(): Promise<HealthBody>;
  said(): string;
  kill(): Promise<void>;
  stop(): Promise<void>;
  readonly ended: Promise<void>;
}

/** The time of the trial at the wall's time: the flow ends when the trial begins. */
export class TrialClock {
  private readonly startedMs = Date.now();
  nowMs(): number {
    return FLOW_END_MS + 30_000 + Date.now() - this.startedMs;
  }
}

export async function startTrialServer(
  data: string,
  nowMs: number,
  built: boolean,
  settings: Readonly<Record<string, string>> = {},
): Promise<TrialServer> {
  if (built && !existsSync(join(ROOT, BUILT))) throw new Error(`${BUILT} is not there: npm run build makes it`);
  const program = startProgram(
    process.execPath,
    built ? ["--import", STEPPED_CLOCK, BUILT] : ["--import", "tsx", "--import", STEPPED_CLOCK, "server/main.ts"],
    {
      cwd: ROOT,
      message: true,
      env: {
        PATH: process.env["PATH"] ?? "",
        CHAOS_CLOCK_OFFSET_MS: String(nowMs - Date.now()),
        NIGHTSLAB_DATA: data,
        NIGHTSLAB_HTTP_PORT: "0",
        NIGHTSLAB_MQTT_PORT: "0",
        ...settings,
      },
    },
  );
  let ready: { httpUrl: string; mqttUrl: string } | null = null;
  const look = () => {
    const line = program
      .said()
      .split("\n")
      .find((one) => one.includes('"msg":"ready"'));
    if (line !== undefined) ready = JSON.parse(line) as { httpUrl: string; mqttUrl: string };
    return ready !== null || program.child.exitCode !== null || program.child.signalCode !== null;
  };
  const failed = () => `the server did not start:\n${program.said()}`;
  await until(look, START_WITHIN_MS, failed);
  if (ready === null) throw new Error(failed());
  const { httpUrl, mqttUrl } = ready as { httpUrl: string; mqttUrl: string };
  return {
    ...{
      httpUrl,
      mqttUrl,
      api: new Api(httpUrl),
      pid: program.child.pid ?? 0,
      ended: program.ended,
      said: program.said,
    },
    setClock: (toMs) => void program.child.send({ offsetMs: toMs - Date.now() }),
    health: async () => (await (await fetch(`${httpUrl}/api/v1/health`)).json()) as HealthBody,
    kill: () => program.end("SIGKILL"),
    stop: () => program.end("SIGTERM"),
  };
}

export async function setUpFloor(api: Api, packs: Packs): Promise<void> {
  await api.put("/sheets", SHEET);
  await api.post("/sites", SITE);
  for (let index = 0; index < NODES; index++) {
    await api.post(`/sites/${SITE.id}/zones`, zoneBody(index));
    await api.post(`/sites/${SITE.id}/nodes`, nodeBody(index, packs.stepMs / 1000));
    for (const entry of journalOf(index)) await api.post(`/sites/${SITE.id}/journal`, entry);
  }
}
