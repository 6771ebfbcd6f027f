// The file of the containers: read by Debian's own docker-compose, held to what it promises; its broker is really started.
import { spawn, spawnSync } from "node:child_process";
import { chmodSync, copyFileSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir, userInfo } from "node:os";
import { join } from "node:path";
import { connectAsync } from "mqtt";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { topicOf } from "#contract/topics.ts";
import { programPath } from "../../.ci/programs.ts";
import { envName, SettingsSchema } from "../../server/settings.ts";
import { freePort } from "../support/free-port.ts";
import { makeCertificates, type MadeCertificates } from "../support/made-certificates.ts";
import { until } from "../support/running-app.ts";
import { textOf } from "./tree.ts";

interface Service {
  image: string;
  user: string;
  environment?: Record<string, string>;
  secrets?: { source: string }[];
  ports?: (string | { published: number; host_ip?: string })[];
  [key: string]: unknown;
}
interface Composed {
  services: Record<string, Service>;
  networks: Record<string, { internal?: boolean }>;
  secrets: Record<string, { file: string }>;
  volumes: Record<string, unknown>;
}

const root = new URL("../..", import.meta.url).pathname;

function config(env: Record<string, string>) {
  const run = spawnSync(programPath("docker-compose"), ["config"], {
    cwd: root,
    encoding: "utf8",
    env: { PATH: process.env["PATH"] ?? "", ...env },
  });
  return { code: run.status, text: run.stdout, said: run.stderr };
}

/** By the YAML reader that docker-compose itself brings. */
function parsed(text: string): Composed {
  const run = spawnSync("python3", ["-c", "import json,sys,yaml; json.dump(yaml.safe_load(sys.stdin), sys.stdout)"], {
    input: text,
    encoding: "utf8",
  });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as Composed;
}

describe("docker-compose.yml", () => {
  let file: Composed;
  beforeAll(() => {
    const read = config({ HOUSE_SECRETS: "/srv/floor-keys" });
    expect(read.code, read.said).toBe(0);
    file = parsed(read.text);
  });
  const services = () => Object.entries(file.services);

  it("does not start without a folder of secrets, and says what is missing", () => {
    const read = config({});
    expect(read.code).not.toBe(0);
    expect(read.said).toMatch(/HOUSE_SECRETS.*names the folder with certificates and passwords/s);
  });

  it("pins every image to a version", () => {
    const base = /^FROM (\S+)$/m.exec(textOf("server/Dockerfile"))?.[1] ?? "";
    for (const image of [...services().map(([, { image }]) => image), base])
      expect(image).toMatch(/^[a-z-]+:\d+\.\d+\.\d+(-[a-z-]+)?$/);
  });

  it.each(["server", "mosquitto", "influxdb"])("runs %s as nobody in particular, checked and held small", (name) => {
    const service = file.services[name] as Service;
    expect(service).toMatchObject({
      user: expect.stringMatching(/^[1-9]\d*:[1-9]\d*$/) as string,
      cap_drop: ["ALL"],
      security_opt: ["no-new-privileges:true"],
      restart: "unless-stopped",
      pids_limit: 256,
      healthcheck: { test: expect.arrayContaining(["CMD"]) as string[] },
    });
    expect(service["privileged"]).toBeUndefined();
    expect(service["network_mode"]).toBeUndefined();
    if (name !== "influxdb") expect(service["read_only"]).toBe(true);
  });

  it("publishes on loopback unless told otherwise, and neither the plain listener nor the database", () => {
    const ports = services().flatMap(([name, { ports = [] }]) => ports.map((port) => `${name} ${String(port)}`));
    expect(ports.sort()).toEqual(["mosquitto 127.0.0.1:8883:8883/tcp", "server 127.0.0.1:8080:8080/tcp"]);
    expect(file.networks["inside"]).toEqual({ internal: true });
    expect(file.services["influxdb"]?.["networks"]).toEqual({ inside: null });
  });

  it("holds no secret itself: each is a file of the folder, and is asked for by its file", () => {
    for (const { file: path } of Object.values(file.secrets)) expect(path).toMatch(/^\/srv\/floor-keys\/[a-z.-]+$/);
    for (const [name, { environment = {}, secrets = [] }] of services()) {
      const mine = secrets.map(({ source }) => `/run/secrets/${source}`);
      for (const [key, value] of Object.entries(environment)) {
        if (/PASSWORD|TOKEN|SECRET|_KEY/.test(key)) expect(key).toMatch(/_FILE$|_TLS_KEY$/);
        if (value.startsWith("/run/secrets/")) expect(mine, `${name} ${key}`).toContain(value);
      }
    }
  });

  it("sets only what is a setting of the server, and has accounts on", () => {
    const properties = SettingsSchema.properties as unknown as Record<string, { secret?: boolean }>;
    const known = new Set(
      Object.entries(properties).flatMap(([key, { secret }]) => [
        envName(key),
        ...(secret === true ? [`${envName(key)}_FILE`] : []),
      ]),
    );
    const { environment = {} } = file.services["server"] as Service;
    expect(Object.keys(environment).filter((key) => !known.has(key))).toEqual([]);
    expect(environment["NIGHTSLAB_ACCOUNTS"]).toBe("on");
  });
});

describe("the broker's configuration", () => {
  let folder: string;
  let certificates: MadeCertificates;
  const ports = { plain: 0, tls: 0 };
  let stop = async () => undefined as void;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "nightslab-compose-"));
    certificates = makeCertificates();
    ports.plain = await freePort();
    ports.tls = await freePort();
    copyFileSync(certificates.cert, join(folder, "mosquitto.pem"));
    copyFileSync(certificates.key, join(folder, "mosquitto-key.pem"));
    const passwords = join(folder, "mosquitto-passwords");
    writeFileSync(passwords, "", { mode: 0o600 });
    for (const [name, word] of [
      ["nightslab", "ebb-and-flow"],
      ["shed-bay-1", "kelp-and-tide"],
    ] as const)
      expect(spawnSync(programPath("mosquitto_passwd"), ["-b", passwords, name, word]).status).toBe(0);
    const acl = textOf("server/mosquitto-acl.example").replace(
      /^# (user shed|topic write nightslab\/v1\/shed)/gm,
      "$1",
    );
    writeFileSync(join(folder, "mosquitto-acl"), acl, { mode: 0o600 });
    // Only the places and the ports are of this test; every other line is the file's own.
    const conf = textOf("server/mosquitto.conf")
      .replaceAll("/run/secrets/", `${folder}/`)
      .replace("/mosquitto/data/", `${folder}/`)
      .replace("listener 1883", `user ${userInfo().username}\nlistener ${ports.plain} 127.0.0.1`)
      .replace("listener 8883", `listener ${ports.tls} 127.0.0.1`);
    writeFileSync(join(folder, "mosquitto.conf"), conf);
    chmodSync(join(folder, "mosquitto-key.pem"), 0o600);
    const child = spawn(programPath("mosquitto"), ["-c", join(folder, "mosquitto.conf")], { stdio: "pipe" });
    let said = "";
    for (const output of [child.stdout, child.stderr]) output.on("data", (text: Buffer) => (said += text.toString()));
    const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
    stop = async () => {
      child.kill("SIGTERM");
      await ended;
    };
    const opens = () =>
      new Promise<boolean>((resolve) => {
        const socket = connect(ports.tls, "127.0.0.1", () => resolve(true)).on("error", () => resolve(false));
        socket.once("connect", () => socket.destroy());
      });
    await until(async () => child.exitCode !== null || (await opens()), 10_000);
    expect(child.exitCode, said).toBeNull();
  });
  afterAll(async () => {
    await stop();
    certificates.remove();
    rmSync(folder, { recursive: true, force: true });
  });

  const own = topicOf({ kind: "senml", site: "shed", node: "bay-1" });
  const foreign = topicOf({ kind: "senml", site: "shed", node: "bay-2" });
  const asNode = () =>
    connectAsync(`mqtts://localhost:${ports.tls}`, {
      ...{ username: "shed-bay-1", password: "kelp-and-tide", ca: certificates.ca, reconnectPeriod: 0 },
    });

  it("lets nobody in without a password", async () => {
    await expect(connectAsync(`mqtt://127.0.0.1:${ports.plain}`, { reconnectPeriod: 0 })).rejects.toThrow(
      /not authori[sz]ed/i,
    );
  });

  it("lets a node write its own topics by TLS, and nothing else, and the server hear it", async () => {
    const server = await connectAsync(`mqtt://127.0.0.1:${ports.plain}`, {
      ...{ username: "nightslab", password: "ebb-and-flow", reconnectPeriod: 0, protocolVersion: 5 as const },
    });
    const heard: string[] = [];
    server.on("message", (topic) => heard.push(topic));
    await server.subscribeAsync("nightslab/v1/+/node/#", { qos: 1 });
    // Whoever writes what is not its own may be cut off, so each on a connection of its own.
    const stray = await asNode();
    await stray.publishAsync(foreign, "[]", { qos: 1 });
    await stray.endAsync(true);
    const node = await asNode();
    await node.publishAsync(own, "[]", { qos: 1 });
    await until(() => heard.includes(own), 5000);
    expect(heard).toEqual([own]);
    await node.endAsync();
    await server.endAsync();
  });
});
