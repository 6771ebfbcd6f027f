// Trials of what stands beside the server: a broker that is killed, and a time-series engine that is away.
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { userInfo } from "node:os";
import { delimiter, join } from "node:path";
import { NODES, QUANTITIES } from "./floor.ts";
import { accepts, freePort, type Program, startProgram, until } from "./program.ts";
import type { Play } from "./trial.ts";

function programPath(command: string): string {
  const folders = [...(process.env["PATH"] ?? "").split(delimiter), "/usr/sbin", "/sbin", "/usr/local/sbin"];
  const found = folders.map((folder) => join(folder, command)).find(existsSync);
  if (found === undefined) throw new Error(`${command} is not installed`);
  return found;
}

const START_WITHIN_MS = 20_000;
/** The engine is away for ten minutes. */
const AWAY_S = 600;
/** Packs of each node that a killed broker may have acknowledged and not yet written down. */
const BROKER_FORGETS = 400;

/** A real Mosquitto with the settings of `server/mosquitto.conf` that bear on what it keeps. */
export const brokerKilled: Play = async ({ start, fleet, packs, folder, sizes, atEnd, sendAll }) => {
  const port = await freePort();
  const home = join(folder, "mosquitto");
  mkdirSync(home);
  const conf = join(home, "mosquitto.conf");
  writeFileSync(
    conf,
    [
      `listener ${port} 127.0.0.1`,
      `user ${userInfo().username}`,
      "allow_anonymous true",
      "persistence true",
      `persistence_location ${home}/`,
      "autosave_interval 1",
      "max_queued_messages 0",
    ].join("\n"),
  );
  let broker: Program;
  const startBroker = async () => {
    broker = startProgram(programPath("mosquitto"), ["-c", conf], { cwd: home, env: {} });
    await until(
      () => accepts(port),
      START_WITHIN_MS,
      () => `mosquitto did not start:\n${broker.said()}`,
    );
  };
  atEnd(async () => broker.end("SIGTERM"));
  await startBroker();
  const url = `mqtt://127.0.0.1:${port}`;
  const server = await start({ NIGHTSLAB_MQTT_URL: url });
  let last = "";
  const isUp = async () => {
    const part = (await server.health()).parts["broker"];
    last = part?.detail ?? "";
    return part?.state === "up";
  };
  const away = () => `the server did not come back to its broker: ${last}`;
  let kills = 0;
  for (; kills < (sizes.short ? 4 : 10); kills++) {
    await until(isUp, 60_000, away);
    const timer = setTimeout(() => void broker.end("SIGKILL"), sizes.short ? 300 : 1500);
    await fleet.send(url, packs.count, sizes.perS * 2);
    clearTimeout(timer);
    await broker!.end("SIGKILL");
    await startBroker();
    fleet.repeat(BROKER_FORGETS);
  }
  await until(isUp, 60_000, away);
  await sendAll(url, "after the broker was back");
  return {
    ...{ server, mqttUrl: url },
    said: `Mosquitto killed ${kills} times; nodes repeat their last ${BROKER_FORGETS} packs, since it forgets what it had not written down`,
  };
};

/** A real InfluxDB 1.x, killed for the greater part of the flow and started again. */
export const influxAway: Play = async ({ start, fleet, packs, folder, sizes, atEnd, sendAll }) => {
  const [port, rpcPort] = [await freePort(), await freePort()];
  const home = join(folder, "influxdb");
  mkdirSync(home);
  const url = `http://127.0.0.1:${port}`;
  let influx: Program;
  const startInflux = async () => {
    influx = startProgram(programPath("influxd"), ["run"], {
      cwd: home,
      env: {
        HOME: home,
        INFLUXDB_BIND_ADDRESS: `127.0.0.1:${rpcPort}`,
        INFLUXDB_HTTP_BIND_ADDRESS: `127.0.0.1:${port}`,
        INFLUXDB_REPORTING_DISABLED: "true",
        INFLUXDB_META_DIR: join(home, "meta"),
        INFLUXDB_DATA_DIR: join(home, "data"),
        INFLUXDB_DATA_WAL_DIR: join(home, "wal"),
        INFLUXDB_MONITOR_STORE_ENABLED: "false",
        INFLUXDB_HTTP_LOG_ENABLED: "false",
      },
    });
    const pings = async () => (await fetch(`${url}/ping`).catch(() => null))?.status === 204;
    await until(pings, START_WITHIN_MS, () => `influxd did not start:\n${influx.said()}`);
  };
  const ask = async (statement: string): Promise<unknown[][]> => {
    const answer = await fetch(`${url}/query?db=floor`, {
      method: "POST",
      body: new URLSearchParams({ q: statement }),
    });
    const body = (await answer.json()) as { results?: { series?: { values: unknown[][] }[]; error?: string }[] };
    const [result] = body.results ?? [];
    if (!answer.ok || result?.error !== undefined) throw new Error(`InfluxDB: ${result?.error ?? answer.status}`);
    return (result?.series ?? []).flatMap(({ values }) => values);
  };
  atEnd(async () => influx.end("SIGTERM"));
  await startInflux();
  await ask("CREATE DATABASE floor");
  const server = await start({
    ...{ NIGHTSLAB_INFLUX_URL: url, NIGHTSLAB_INFLUX_VERSION: "1", NIGHTSLAB_INFLUX_DATABASE: "floor" },
  });
  const part = (share: number) => Math.ceil(packs.count * share);
  const go = (share: number, perS: number | null) =>
    until(
      () => fleet.send(server.mqttUrl, part(share), perS),
      300_000,
      () => `not taken up to ${share}`,
    );
  await go(0.15, null);
  await influx!.end("SIGKILL");
  const awayMs = performance.now();
  const before = fleet.acknowledged;
  await go(0.9, sizes.short ? sizes.perS * 2 : ((part(0.9) - part(0.15)) * NODES) / AWAY_S);
  const awayPacks = fleet.acknowledged - before;
  const awayS = Math.round((performance.now() - awayMs) / 1000);
  await startInflux();
  await sendAll(server.mqttUrl, "after the engine was back");
  const isOut = async () => ((await server.health()).counters["influxBehind"] ?? 0) === 0;
  await until(isOut, 300_000, () => `the outbox did not become empty:\n${server.said().slice(-2000)}`);
  const rows = await ask("SELECT count(value) FROM reading");
  const there = rows.reduce((sum, row) => sum + Number(row[1] ?? 0), 0);
  const wanted = fleet.acknowledged * QUANTITIES.length;
  if (there !== wanted) throw new Error(`InfluxDB has ${there} readings, and ${wanted} were acknowledged`);
  return {
    ...{ server, mqttUrl: server.mqttUrl },
    said: `InfluxDB killed for ${awayS} s, in which ${awayPacks} packs came (of ten nodes, ${Math.round((awayPacks / 10) * (packs.stepMs / 3_600_000))} h); then all ${there} readings reached it`,
  };
};
