// The built-in broker (MQTT 3.1.1): a reading is acknowledged when it is on the disk, and not before.
import type { Socket } from "node:net";
import { Aedes, type AuthenticateError, type Client, type PublishPacket } from "aedes";
import { type Topic, topicFrom } from "#contract/topics.ts";
import { barredFrom, type Doorbook, type Guest, guestOf, mayHear, nameOf } from "./guest.ts";
import type { BrokerLink, Log } from "./link.ts";
import { type Certificate, listen, openServer } from "./listen.ts";
import type { Message, Take } from "./message.ts";
import { SideWay } from "./side-way.ts";
import { type Limits, Throttle } from "./throttle.ts";

export interface BrokerOptions {
  readonly host: string;
  readonly port: number;
  /** Join secret of the whole house; null = there is none. */
  readonly joinSecret: string | null;
  /** True lets in whoever comes: on a loopback address without a join secret. */
  readonly open: boolean;
  readonly certificate: Certificate | null;
  readonly limits: Limits | null;
  readonly book: Doorbook;
  readonly take: Take;
  /** Told of whatever was not let through: it is counted and shown. */
  readonly barred: (what: {
    readonly site: string;
    readonly node: string;
    readonly reason: string;
    readonly field: string;
  }) => void;
  readonly log: Log;
}

const BAD_PASSWORD = 4;
/** Topics that are remembered as they were read; then it is begun anew. */
const MOST_TOPICS = 2000;
/** Guessing is slow: so long does a no take. */
const REFUSE_MS = 1000;
/** The topic of what was taken in. */
const NOWHERE = "heard";
const STRANGER: Guest = { role: "open", name: null };

function isServers(topic: string): boolean {
  const kind = topicFrom(topic)?.kind;
  return kind === "call" || kind === "alarm" || kind === "siren";
}

/** What the broker knows of a client and does not tell. */
type Inner = Client & { connackSent: boolean; _keepaliveInterval: number; _keepaliveTimer: NodeJS.Timeout | null };

/** True from when the broker has let a client in until it lets it go. */
function isIn(client: Client | null): boolean {
  return client !== null && client.connected && (client as Inner).connackSent && !client.closed;
}

/** Tells the broker that a client lives: one whose messages it does not see would seem silent to it. */
function heardFrom(client: Client | null): void {
  const { _keepaliveInterval = 0, _keepaliveTimer = null } = (client ?? {}) as Partial<Inner>;
  if (_keepaliveInterval > 0) _keepaliveTimer?.refresh();
}

/** The name that a client signed in with, where it names a node. */
function fromOf(guest: Guest): string | null {
  if (guest.role === "node") return guest.node;
  return guest.role === "open" ? guest.name : null;
}

export async function startBroker(options: BrokerOptions): Promise<BrokerLink> {
  const { take, book, barred, log } = options;
  const guests = new WeakMap<Client, Guest>();
  let paused = false;
  let outgoing = 0;
  /** Nodes write to the same topics again and again. */
  const topics = new Map<string, Topic | null>();
  const readTopic = (name: string): Topic | null => {
    const known = topics.get(name);
    if (known !== undefined) return known;
    if (topics.size >= MOST_TOPICS) topics.clear();
    const read = topicFrom(name);
    topics.set(name, read);
    return read;
  };
  const guestOfClient = (client: Client | null) => (client === null ? STRANGER : (guests.get(client) ?? STRANGER));

  /** Rejects what is not let through. Closing the line is the only way to say no in MQTT 3.1.1; the node keeps what it could not send. */
  const hear = (client: Client | null, said: Pick<PublishPacket, "topic" | "retain" | "dup"> & { payload: Buffer }) => {
    if (paused) return Promise.reject(new Error("the server is stopping"));
    const guest = guestOfClient(client);
    const { topic, payload } = said;
    const why = barredFrom(guest, topic, book, readTopic(topic));
    if (why !== null) {
      barred({ ...nameOf(guest, topic), reason: why, field: topic.slice(0, 200) });
      return Promise.reject(new Error(why));
    }
    const message: Message = {
      topic,
      payload,
      replayed: said.retain || said.dup,
      from: fromOf(guest),
      node: guest.role === "node" ? guest : null,
      joining: guest.role === "joining",
      address: (client?.conn as Partial<SideWay> | undefined)?.remoteAddress ?? null,
    };
    return take(message);
  };

  const broker = await Aedes.createBroker({
    authenticate(client, username, password, done) {
      const given = { username: username ?? "", password: password ?? "" };
      const guest = guestOf(given, book, { house: options.joinSecret, open: options.open });
      if (guest !== null) {
        guests.set(client, guest);
        return done(null, true);
      }
      const no = Object.assign(new Error("wrong name or password"), { returnCode: BAD_PASSWORD });
      const [site = "(none)", node = "(none)"] = given.username.split("/");
      barred({ site, node, reason: "wrong password", field: given.username.slice(0, 100) });
      setTimeout(() => done(no as AuthenticateError, false), REFUSE_MS);
    },
    authorizePublish(client, packet: PublishPacket, done) {
      const { topic, retain, dup } = packet;
      const payload = typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload;
      // The server keeps what clients say; nobody gets it from here, least of all a call that a client made up.
      packet.retain = false;
      packet.topic = NOWHERE;
      hear(client, { topic, payload, retain, dup }).then(
        () => done(null),
        (error: unknown) => done(error instanceof Error ? error : new Error(String(error))),
      );
    },
    authorizeSubscribe(client, subscription, done) {
      done(null, mayHear(guestOfClient(client), subscription.topic) ? subscription : null);
    },
    authorizeForward: (_client, packet) => (isServers(packet.topic) ? packet : null),
  });
  // What clients say goes no further: the broker would look up anew for each message that nobody may hear it.
  const inner = broker as unknown as { publish(packet: PublishPacket, ...rest: unknown[]): void };
  const passOn = inner.publish.bind(broker);
  inner.publish = (packet, ...rest) => {
    if (packet.topic === NOWHERE) (rest.at(-1) as () => void)();
    else passOn(packet, ...rest);
  };
  broker.on("clientError", (client, error) => log.debug({ client: client.id, why: error.message }, "client closed"));
  broker.on("connectionError", (_client, error) => log.debug({ why: error.message }, "connection refused"));

  const sockets = new Set<Socket>();
  const met = (socket: Socket) => {
    // The broker hangs its client on the stream.
    const client = (): Client | null => (way as SideWay & { client?: Client }).client ?? null;
    const tell = (reason: string) => () => {
      const { site, node } = nameOf(guestOfClient(client()), "");
      barred({ site, node, reason, field: line.remoteAddress ?? "" });
    };
    const line = new Throttle(socket, {
      limits: options.limits,
      nowMs: () => performance.now(),
      slowed: tell("slowed: too many messages at once"),
      tooLarge: tell("cut off: a packet that is too large"),
    });
    const way: SideWay = new SideWay(line, {
      takes: () => isIn(client()),
      hasProperties: false,
      take(publish) {
        heardFrom(client());
        return hear(client(), publish);
      },
      failed: (error) => void client()?.emit("error", error as Error),
    });
    broker.handle(way);
  };
  const closeBroker = () => new Promise<void>((resolve) => broker.close(resolve));
  const failed = (why: string) => log.error({ why }, "the certificate of the broker was not renewed");
  const { server, port } = await (async () => {
    const made = openServer(options.certificate, met, failed);
    return { server: made, port: await listen(made, options.host, options.port) };
  })().catch(async (error: unknown) => {
    await closeBroker();
    throw error;
  });
  server.on("error", (error) => log.error({ why: error.message }, "broker"));
  // With TLS a line is met when its handshake is over, and some never end theirs.
  server.on("connection", (socket) => {
    sockets.add(socket);
    socket.once("close", () => sockets.delete(socket));
  });
  const scheme = options.certificate === null ? "mqtt" : "mqtts";

  return {
    url: `${scheme}://${options.host.includes(":") ? `[${options.host}]` : options.host}:${port}`,
    publish(topic, body, retain) {
      outgoing += 1;
      broker.publish({ cmd: "publish", topic, payload: body, qos: 1, retain, dup: false }, (error) => {
        outgoing -= 1;
        if (error) log.warn({ topic, why: error.message }, "could not publish");
      });
    },
    hear: () => undefined,
    serve: () => undefined,
    signOut(site, node) {
      for (const client of Object.values((broker as unknown as { clients: Record<string, Client> }).clients)) {
        const guest = guests.get(client);
        const name = guest?.role === "node" ? guest.node : guest?.role === "siren" ? `siren/${guest.siren}` : null;
        if (name === node && guest !== undefined && "site" in guest && guest.site === site) client.close();
      }
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
      await closeBroker();
      for (const socket of sockets) socket.destroy();
      if (server.listening) await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
