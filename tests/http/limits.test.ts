// What one who means harm can hold: half requests, bodies without end, headers and cookies; each on a real connection.
import { connect, type Socket } from "node:net";
import { afterEach, beforeEach, expect, it } from "vitest";
import { type Door, openDoor } from "../support/http-door.ts";

const HALF_REQUESTS = 200;
const MINUTE_MS = 60_000;

let door: Door;
let port: number;
const sockets: Socket[] = [];

beforeEach(async () => {
  door = await openDoor({});
  port = Number(new URL(await door.app.listen({ host: "127.0.0.1", port: 0 })).port);
});
afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy();
  await door.app.close();
});

function say(text: string): Promise<Socket> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, "127.0.0.1", () => socket.write(text, () => resolve(socket)));
    socket.once("error", reject);
    sockets.push(socket);
  });
}

function answerOf(socket: Socket): Promise<string> {
  return new Promise((resolve) => {
    let text = "";
    socket.setEncoding("utf8").on("data", (chunk: string) => (text += chunk));
    socket.removeAllListeners("error");
    socket.on("error", () => undefined).once("close", () => resolve(text));
  });
}

it("gives a request a minute to come whole, and its head no longer", () => {
  const { server } = door.app;
  expect(server.requestTimeout).toBe(MINUTE_MS);
  expect(server.headersTimeout).toBeGreaterThan(0);
  expect(server.headersTimeout).toBeLessThanOrEqual(MINUTE_MS);
});

it("answers others while hundreds send their heads and bodies by drops", async () => {
  for (let count = 0; count < HALF_REQUESTS; count++)
    await say(
      count % 2 === 0
        ? "GET /api/v1/sites HTTP/1.1\r\nHost: localhost\r\nX-Slow: "
        : 'POST /api/v1/sites HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 900\r\n\r\n{"id": ',
    );
  const answer = await fetch(`http://127.0.0.1:${port}/api/v1/sites`);
  expect(answer.status).toBe(200);
  expect(await answer.json()).toBeDefined();
});

it.each([
  ["a length that is told", "Content-Length: 999999999"],
  ["chunks without end", "Transfer-Encoding: chunked"],
])("refuses too large a body by %s, without waiting for its end", async (_how, header) => {
  const head = `POST /api/v1/sites HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n${header}\r\n\r\n`;
  const chunk = `80000\r\n${"x".repeat(0x80000)}\r\n`;
  const socket = await say(head);
  const answer = answerOf(socket);
  if (header.startsWith("Transfer")) for (let sent = 0; sent < 4; sent++) socket.write(chunk);
  // What is left of the connection is the sender's to close.
  socket.once("data", () => socket.destroy());
  expect(await answer).toContain("HTTP/1.1 413 ");
});

it.each([
  ["/api/v1/sites", 200],
  ["/api/v1/attic", 404],
  ["/api/v1/sites/%zz/board", 400],
])("guards what it says at %s, whatever it says", async (url, status) => {
  const { statusCode, headers } = await door.app.inject({ url, headers: { host: "localhost" } });
  expect(statusCode).toBe(status);
  expect(headers["content-security-policy"]).toContain("frame-ancestors 'none'");
  expect(headers["x-content-type-options"]).toBe("nosniff");
  expect(headers["referrer-policy"]).toBe("no-referrer");
  expect(headers["x-powered-by"]).toBeUndefined();
  expect(headers["server"]).toBeUndefined();
});

it("sets no cookie while accounts are off", async () => {
  expect((await door.ask("GET", "/sites")).headers["set-cookie"]).toBeUndefined();
});
