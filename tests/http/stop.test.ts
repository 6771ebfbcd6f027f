// Whoever keeps a line half open does not keep the server from stopping: at either door, at any depth, plain or with TLS.
import { connect, type Socket } from "node:net";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type MadeCertificates, makeCertificates } from "../support/made-certificates.ts";
import { runApp, type RunningApp } from "../support/running-app.ts";

/** Requests under way have five seconds to end; the rest is for a machine that is busy, and half of what one may take unhurried. */
const WITHIN_MS = 30_000;
const HEAD = "POST /api/v1/sites HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n";
/** The first bytes of a TLS record of a client, and no more of it. */
const HALF_HELLO = Buffer.from([0x16, 0x03, 0x01, 0x02, 0x00, 0x01, 0x00]);

const OPENINGS: readonly (readonly [name: string, door: "http" | "mqtt", bytes: string | Buffer])[] = [
  ["a line that says nothing", "http", ""],
  ["half a request line", "http", "GET /api/v1/si"],
  ["headers without their end", "http", HEAD],
  ["a body that does not come", "http", `${HEAD}Content-Length: 900\r\n\r\n{"id":`],
  ["a broker's line that says nothing", "mqtt", ""],
  ["half a CONNECT", "mqtt", Buffer.from([0x10, 60, 0, 4, 0x4d])],
];

async function open(url: string, bytes: string | Buffer): Promise<Socket> {
  const { hostname, port } = new URL(url);
  const socket = connect(Number(port), hostname);
  socket.on("error", () => undefined);
  await new Promise<void>((resolve) => socket.once("connect", () => resolve()));
  if (bytes.length > 0) socket.write(bytes);
  return socket;
}

async function stopMs(running: RunningApp, sockets: readonly Socket[]): Promise<number> {
  // So that the server has read what was sent.
  await new Promise((resolve) => setTimeout(resolve, 200));
  const startMs = performance.now();
  await running.stop();
  const tookMs = performance.now() - startMs;
  for (const socket of sockets) socket.destroy();
  await running.end();
  return tookMs;
}

describe("a server that is told to stop", () => {
  it.each(OPENINGS)("stops in spite of %s", async (_, door, bytes) => {
    const running = await runApp();
    const socket = await open(door === "http" ? running.httpUrl : running.mqttUrl, bytes);
    expect(await stopMs(running, [socket])).toBeLessThan(WITHIN_MS);
  });
});

describe("a server with certificates that is told to stop", () => {
  let made: MadeCertificates;
  beforeAll(() => {
    made = makeCertificates();
  }, 60_000);
  afterAll(() => made.remove());

  it.each([
    ["says nothing", ""],
    ["begins a handshake", HALF_HELLO],
  ] as const)("stops in spite of whoever %s at its doors", { timeout: 30_000 }, async (_, bytes) => {
    const running = await runApp({
      settings: {
        ...{ httpTlsCert: made.cert, httpTlsKey: made.key },
        ...{ mqttTlsCert: made.cert, mqttTlsKey: made.key },
      },
    });
    const sockets = await Promise.all([running.httpUrl, running.mqttUrl].map((url) => open(url, bytes)));
    expect(await stopMs(running, sockets)).toBeLessThan(WITHIN_MS);
  });
});
