// A node on a real broker: connects with a last will, says that it is there, and sends what waits, oldest first.
import { connect, type IClientOptions, type MqttClient } from "mqtt";
import { topicOf, TOPIC_TABLE } from "#contract/topics.ts";
import type { Clock } from "../clock.ts";
import { REPEATS } from "../node/buffer.ts";
import type { Firmware, Pack } from "../node/firmware.ts";
import { fateOf, type LinkFaults } from "./faults.ts";

export interface BrokerAt {
  readonly url: string;
  readonly username?: string;
  readonly password?: string;
  /** Certificate of the authority that the broker's own is signed by, PEM. */
  readonly ca?: string;
}

export interface NodeLink {
  readonly site: string;
  readonly broker: BrokerAt;
  /** Where a node has a name and password of its own. */
  readonly brokerOf?: (node: string) => BrokerAt;
  readonly faults: LinkFaults;
  readonly seed: number;
  readonly clock: Clock;
  /** Told of every change a person may want to know of. */
  readonly say: (node: string, what: "connected" | "lost" | "refused", why: string) => void;
}

const RECONNECT_MS = 2_000;

export class MqttNode {
  private client: MqttClient | null = null;
  private sending: Promise<void> | null = null;
  private packs = 0;
  private readonly late = new Set<ReturnType<typeof setTimeout>>();
  /** Trouble is told once, until the connection stands again. */
  private told = false;
  private readonly presence: string;
  private readonly senml: string;

  constructor(
    readonly firmware: Firmware,
    private readonly link: NodeLink,
  ) {
    const node = firmware.node.body.id;
    this.presence = topicOf({ kind: "presence", site: link.site, node });
    this.senml = topicOf({ kind: "senml", site: link.site, node });
  }

  isConnected(): boolean {
    return this.client?.connected ?? false;
  }

  /** Connects and keeps reconnecting; what waits is sent on every connection. */
  start(): void {
    if (this.client !== null) return;
    const node = this.firmware.node.body.id;
    const broker = this.link.brokerOf?.(node) ?? this.link.broker;
    const options: IClientOptions = {
      clientId: `${this.link.site}-${node}`,
      protocolVersion: 4,
      clean: true,
      keepalive: 30,
      reconnectPeriod: RECONNECT_MS,
      // What waits lives in the node's own buffer; the client must not keep a second one.
      queueQoSZero: false,
      will: {
        topic: this.presence,
        payload: Buffer.from("offline"),
        qos: TOPIC_TABLE.presence.qos,
        retain: TOPIC_TABLE.presence.retained,
      },
      ...(broker.username === undefined ? {} : { username: broker.username }),
      ...(broker.password === undefined ? {} : { password: broker.password }),
      ...(broker.ca === undefined ? {} : { ca: broker.ca }),
    };
    const client = connect(broker.url, options);
    this.client = client;
    client.on("connect", () => {
      this.told = false;
      this.link.say(node, "connected", broker.url);
      void this.announce();
    });
    client.on("close", () => this.trouble("lost", `no connection to ${broker.url}`));
    client.on("error", (error) => {
      const code = (error as { code?: unknown }).code;
      // 4 and 5 are the broker's refusals of name or password: asking again changes nothing.
      this.trouble(code === 4 || code === 5 ? "refused" : "lost", error.message || String(code));
    });
  }

  private trouble(what: "lost" | "refused", why: string): void {
    if (!this.told) this.link.say(this.firmware.node.body.id, what, why);
    this.told = true;
  }

  private async announce(): Promise<void> {
    await this.publish(this.presence, "online", TOPIC_TABLE.presence.retained);
    await this.flush();
  }

  private async publish(topic: string, payload: string, retain: boolean): Promise<boolean> {
    const client = this.client;
    if (client === null || !client.connected) return false;
    try {
      await client.publishAsync(topic, payload, { qos: 1, retain });
      return true;
    } catch {
      // The connection went while the acknowledgement was awaited: the round stays in the buffer and goes out again.
      return false;
    }
  }

  /** Sends packs until nothing waits or the connection goes; a second call joins the first. */
  flush(): Promise<void> {
    this.sending ??= this.sendAll().finally(() => {
      this.sending = null;
    });
    return this.sending;
  }

  private async sendAll(): Promise<void> {
    for (let pack = this.firmware.nextPack(); pack !== null; pack = this.firmware.nextPack()) {
      if (!this.isConnected() || !(await this.send(pack))) return;
      this.firmware.sent(pack);
    }
  }

  /** True if the node may count the pack as sent: acknowledged, or lost on a link that does not tell. */
  private async send(pack: Pack): Promise<boolean> {
    const { faults, seed, clock } = this.link;
    const { id, everyS } = this.firmware.node.body;
    const payload = JSON.stringify(pack.records);
    // A buffer that empties itself waits for each acknowledgement; only the everyday pack is sent and forgotten.
    const everyday = pack.count <= REPEATS;
    const fate = everyday ? fateOf(faults, seed, id, this.packs++, everyS) : [0];
    let sent = true;
    for (const delayS of fate) {
      if (delayS === 0) sent = (await this.publish(this.senml, payload, false)) && sent;
      else this.later(payload, (delayS * 1000) / clock.pace);
    }
    return sent;
  }

  private later(payload: string, delayMs: number): void {
    const timer = setTimeout(() => {
      this.late.delete(timer);
      void this.publish(this.senml, payload, false);
    }, delayMs);
    this.late.add(timer);
  }

  /** The plug is pulled: no farewell, so the broker publishes the last will. */
  cut(): void {
    const client = this.client;
    this.client = null;
    this.forgetLate();
    if (client === null) return;
    client.options.reconnectPeriod = 0;
    client.removeAllListeners("close");
    client.on("error", () => undefined);
    client.stream.destroy();
    client.end(true);
  }

  /** Switched off in order: says offline itself, then leaves. */
  async stop(): Promise<void> {
    await this.publish(this.presence, "offline", TOPIC_TABLE.presence.retained);
    const client = this.client;
    this.client = null;
    this.forgetLate();
    if (client !== null) await client.endAsync(true);
  }

  private forgetLate(): void {
    for (const timer of this.late) clearTimeout(timer);
    this.late.clear();
  }
}
