// The built-in broker (MQTT 3.1.1): a reading is acknowledged when it is on the disk, and not before.
import { createHash, timingSafeEqual } from "node:crypto";
import { createServer, type Server, type Socket } from "node:net";
import { Aedes, type AuthenticateError, type Client, type PublishPacket } from "aedes";
import { TOPIC_ROOT, topicFrom } from "#contract/topics.ts";
import type { BrokerLink, Log } from "./link.ts";
import type { Take } from "./message.ts";

export interface BrokerOptions {
  readonly host: string;
  readonly port: number;
  /** Password asked of every client; null asks for none. */
  readonly joinSecret: string | null;
  readonly take: Take;
  readonly log: Log;
}

const CALLS_AND_ALARMS = new RegExp(`^${TOPIC_ROOT}/(\\+|[A-Za-z0-9_-]+)/(alarm|zone/(\\+|[A-Za-z0-9_-]+)/call)$`);
const BAD_PASSWORD = 4;
/** A topic that nobody may subscribe to. */
const NOWHERE = "heard";

const digest = (text: string | Buffer) => createHash("sha256").update(text).digest();

function isServers(topic: string): boolean {
  const kind = topicFrom(topic)?.kind;
  return kind === "call" || kind === "alarm";
}

async function listen(server: Server, host: string, port: number): Promise<number> {
  await new Promise<void>((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) =>
      reject(
        error.code === "EADDRINUSE"
          ? new Error(
              `port ${port} at ${host} is in use: another broker may be running there (setting mqttPort, or mqttUrl to use that one)`,
            )
          : error,
      ),
    );
    server.listen(port, host, resolve);
  });
  const address = server.address();
  return typeof address === "object" && address !== null ? address.port : port;
}

export async function startBroker(options: BrokerOptions): Promise<BrokerLink> {
  const { joinSecret, take, log } = options;
  const secret = joinSecret === null ? null : digest(joinSecret);
  const names = new WeakMap<Client, string>();
  let paused = false;
  let outgoing = 0;

  const broker = await Aedes.createBroker({
    authenticate(client, username, password, done) {
      if (username !== undefined && username !== "") names.set(client, username);
      if (secret === null || timingSafeEqual(digest(password ?? ""), secret)) return done(null, true);
      done(Object.assign(new Error("wrong join secret"), { returnCode: BAD_PASSWORD }) as AuthenticateError, false);
    },
    authorizePublish(client, packet: PublishPacket, done) {
      // Closing the connection is the only way to say no in MQTT 3.1.1; the node keeps what it could not send.
      if (paused) return done(new Error("the server is stopping"));
      const payload = typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
      const message = {
        topic: packet.topic,
        payload,
        replayed: packet.retain || packet.dup,
        from: client === null ? null : (names.get(client) ?? null),
      };
      // The server keeps what clients say; nobody gets it from here, least of all a call that a client made up.
      packet.retain = false;
      packet.topic = NOWHERE;
      take(message).then(
        () => done(null),
        (error: unknown) => done(error instanceof Error ? error : new Error(String(error))),
      );
    },
    authorizeSubscribe(_client, subscription, done) {
      done(null, CALLS_AND_ALARMS.test(subscription.topic) ? subscription : null);
    },
    authorizeForward: (_client, packet) => (isServers(packet.topic) ? packet : null),
  });
  broker.on("clientError", (client, error) => log.debug({ client: client.id, why: error.message }, "client closed"));
  broker.on("connectionError", (_client, error) => log.debug({ why: error.message }, "connection refused"));

  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on("close", () => sockets.delete(socket));
    broker.handle(socket);
  });
  const port = await listen(server, options.host, options.port).catch(async (error: unknown) => {
    await new Promise<void>((resolve) => broker.close(resolve));
    throw error;
  });
  server.on("error", (error) => log.error({ why: error.message }, "broker"));

  return {
    url: `mqtt://${options.host.includes(":") ? `[${options.host}]` : options.host}:${port}`,
    publish(topic, body, retain) {
      outgoing += 1;
      broker.publish({ cmd: "publish", topic, payload: body, qos: 1, retain, dup: false }, (error) => {
        outgoing -= 1;
        if (error) log.warn({ topic, why: error.message }, "could not publish");
      });
    },
    health: () => ({
      state: server.listening ? "up" : "down",
      detail: `built in, ${broker.connectedClients} connected`,
    }),
    waiting: () => outgoing,
    pause() {
      paused = true;
      server.close();
    },
    async close() {
      paused = true;
      await new Promise<void>((resolve) => broker.close(resolve));
      for (const socket of sockets) socket.destroy();
      if (server.listening) await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
