// All nodes of a scenario on a broker: they catch up with the past, then sample as time goes on.
import type { Clock } from "./clock.ts";
import { MqttNode, type NodeLink } from "./link/mqtt-node.ts";
import { sampleUntil, type World, worldOf } from "./scenario/play.ts";
import type { Scenario } from "./scenario/scenario.ts";

export class Fleet {
  readonly nodes: readonly MqttNode[];
  private readonly world: World;
  private readonly clock: Clock;

  constructor(
    private readonly scenario: Scenario,
    link: NodeLink,
  ) {
    this.clock = link.clock;
    this.world = worldOf(scenario, link.faults.skew * 1000);
    this.nodes = this.world.nodes.map((firmware) => new MqttNode(firmware, link));
  }

  /**
   * The past from `sinceMs` on is sampled into the nodes' buffers, as it is when they had time from the network but no
   * broker to send to.
   */
  rememberUntil(toMs: number, sinceMs = this.scenario.fromMs): void {
    this.world.building.advanceTo(sinceMs);
    sampleUntil(this.world, sinceMs, toMs, (firmware, atMs) => firmware.keepTime(atMs));
  }

  /** Rounds that wait in all buffers. */
  waiting(): number {
    return this.nodes.reduce((sum, node) => sum + node.firmware.buffer.count(), 0);
  }

  /** Connects every node and lets it send what waits. A node that is silent by now sends its past and is cut off. */
  async connect(signal: AbortSignal, deadlineMs: number): Promise<boolean> {
    for (const node of this.nodes) node.start();
    const untilMs = Date.now() + deadlineMs;
    while (!signal.aborted && Date.now() < untilMs) {
      await Promise.all(this.nodes.filter((node) => node.isConnected()).map((node) => node.flush()));
      if (this.waiting() === 0 && this.nodes.every((node) => node.isConnected())) {
        for (const node of this.nodes) if (node.firmware.isSilent(this.clock.nowMs())) node.cut();
        return true;
      }
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    return false;
  }

  /** Samples and sends as the clock goes on, until `signal` fires or the clock passes `toMs`. */
  async live(signal: AbortSignal, toMs = Number.POSITIVE_INFINITY): Promise<void> {
    let fromMs = this.world.building.atMs() + 1;
    while (!signal.aborted) {
      const nextMs = Math.min(...this.world.nodes.map((node) => node.nextSampleMs(fromMs)));
      if (nextMs > toMs) break;
      await this.clock.waitUntil(nextMs, signal);
      if (signal.aborted) break;
      sampleUntil(this.world, nextMs, nextMs, (firmware, atMs) => firmware.keepTime(atMs));
      for (const node of this.nodes) this.tend(node, nextMs);
      fromMs = nextMs + 1;
    }
  }

  /** Follows a node's faults: a silent one drops off the network, one without network waits, the rest send. */
  private tend(node: MqttNode, atMs: number): void {
    if (!node.firmware.hasNetwork(atMs)) return node.cut();
    node.start();
    if (node.isConnected()) void node.flush();
  }

  async stop(): Promise<void> {
    await Promise.all(this.nodes.map((node) => node.stop()));
  }
}
