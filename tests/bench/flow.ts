// The peer that people wire up themselves: a flow-based runtime with MQTT in, JSON, a dew point function and a file it appends to.
import { execFile, spawn } from "node:child_process";
import { open, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { freePort } from "../support/free-port.ts";
import { sleep } from "./child.ts";
import { atExit, temporaryFolder } from "./leftovers.ts";
import { SITE } from "./site.ts";
import type { Taker } from "./taker.ts";

export const FLOW_WHAT = "node-red 4.1.15: JSON, dew point, file append";
const PACKAGE = "node-red@4.1.15";
const INSTALL_WITHIN_MS = 180_000;
const START_WITHIN_MS = 60_000;
const LOOK_MS = 20;
const TICKS_PER_S = 100;
const NEWLINE = 10;
/** The dew point by the Magnus form with the constants of common practice; the frame of the formula is the same everywhere. */
const FUNCTION = `
const of = (name) => msg.payload.find((one) => one.n === name).v;
const x = Math.log(of("rh") / 100) + (17.62 * of("air")) / (243.12 + of("air"));
const dewC = (243.12 * x) / (17.62 - x);
msg.payload = [msg.topic, of("slab"), of("air"), of("rh"), dewC, of("slab") - dewC].join(",");
return msg;`;

function flowOf(brokerUrl: string, file: string): unknown[] {
  const { hostname, port } = new URL(brokerUrl);
  const at = { x: 100, y: 100, z: "tab" };
  return [
    { id: "tab", type: "tab", label: "bench" },
    {
      id: "broker",
      type: "mqtt-broker",
      broker: hostname,
      port,
      clientid: "",
      autoConnect: true,
      protocolVersion: "4",
    },
    {
      ...{
        id: "in",
        type: "mqtt in",
        ...at,
        topic: `nightslab/v1/${SITE.id}/node/+/senml`,
        qos: "1",
        datatype: "utf8",
      },
      ...{ broker: "broker", wires: [["json"]] },
    },
    { id: "json", type: "json", ...at, property: "payload", action: "obj", wires: [["dew"]] },
    { id: "dew", type: "function", ...at, func: FUNCTION, outputs: 1, wires: [["file"]] },
    {
      ...{ id: "file", type: "file", ...at, filename: file, filenameType: "str", appendNewline: true },
      ...{ overwriteFile: "false", encoding: "none", wires: [[]] },
    },
  ];
}

/** Lines in a file that only grows, without reading any part of it twice. */
function lineCounter(path: string): () => Promise<number> {
  let lines = 0;
  let readTo = 0;
  return async () => {
    const file = await open(path, "a+");
    try {
      const { size } = await file.stat();
      const chunk = Buffer.alloc(size - readTo);
      if (chunk.length > 0) await file.read(chunk, 0, chunk.length, readTo);
      readTo = size;
      for (const byte of chunk) if (byte === NEWLINE) lines += 1;
      return lines;
    } finally {
      await file.close();
    }
  };
}

async function startFlow(modules: string, brokerUrl: string): Promise<Taker> {
  const folder = await temporaryFolder();
  const file = join(folder.path, "readings.csv");
  const flow = join(folder.path, "flow.json");
  await writeFile(flow, JSON.stringify(flowOf(brokerUrl, file)));
  const settings = { uiPort: await freePort(), uiHost: "127.0.0.1", httpAdminRoot: false, httpNodeRoot: false };
  await writeFile(
    join(folder.path, "settings.js"),
    `module.exports = ${JSON.stringify({ ...settings, telemetry: { enabled: false }, logging: { console: { level: "info" } } })};`,
  );
  const args = ["red.js", "-u", folder.path, "-s", join(folder.path, "settings.js"), flow];
  const child = spawn(process.execPath, args, { cwd: join(modules, "node-red"), stdio: ["ignore", "pipe", "pipe"] });
  const forget = atExit(() => void child.kill("SIGKILL"));
  const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
  let said = "";
  const hear = (chunk: Buffer) => void (said = (said + chunk.toString()).slice(-4000));
  child.stdout.on("data", hear);
  child.stderr.on("data", hear);
  const lines = lineCounter(file);
  const end = async () => {
    child.kill("SIGKILL");
    await ended;
    forget();
    await folder.remove();
  };
  const startMs = performance.now();
  while (!said.includes("Connected to broker")) {
    if (child.exitCode !== null || performance.now() - startMs > START_WITHIN_MS) {
      await end();
      throw new Error(`the flow did not start: ${said}`);
    }
    await sleep(LOOK_MS);
  }
  return {
    url: brokerUrl,
    async taken(packs) {
      while ((await lines()) < packs) {
        if (child.exitCode !== null) throw new Error(`the flow ended: ${said}`);
        await sleep(LOOK_MS);
      }
    },
    async cpuMs() {
      const fields = (await readFile(`/proc/${child.pid}/stat`, "utf8")).split(") ")[1]?.split(" ") ?? [];
      return ((Number(fields[11]) + Number(fields[12])) * 1000) / TICKS_PER_S;
    },
    end,
  };
}

export interface Flow {
  start(brokerUrl: string): Promise<Taker>;
  remove(): Promise<void>;
}

/** Into a folder of its own, never into the project. Null, with a line that says why, where the registry does not answer. */
export async function installFlow(wanted: boolean, say: (text: string) => void): Promise<Flow | null> {
  if (!wanted) return null;
  const folder = await temporaryFolder();
  try {
    await writeFile(join(folder.path, "package.json"), "{}");
    const args = ["install", "--no-audit", "--no-fund", "--ignore-scripts", "--prefer-offline", PACKAGE];
    await promisify(execFile)("npm", args, { cwd: folder.path, timeout: INSTALL_WITHIN_MS });
  } catch (error) {
    await folder.remove();
    const why = error instanceof Error ? (error.message.split("\n")[0] ?? "") : String(error);
    say(`skipped: ${FLOW_WHAT}: the registry gave no ${PACKAGE} (${why})`);
    return null;
  }
  const modules = join(folder.path, "node_modules");
  return { start: (brokerUrl) => startFlow(modules, brokerUrl), remove: () => folder.remove() };
}
