// The gate before the flow: knocks are noted, readings of nodes that are not let in are held, everything else goes on.
import { fingerprintOf, type KnockBody, LARGEST_KNOCK_BYTES, readKnock } from "#contract/knock.ts";
import { sayFaults } from "#contract/faults.ts";
import { topicFrom } from "#contract/topics.ts";
import type { Moments } from "./moments.ts";
import type { LiveStore } from "./ports.ts";
import type { Knock } from "./ports-nodes.ts";
import type { Sites } from "./sites.ts";

/** A message as far as the gate looks at it. */
interface Comes {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly joining?: boolean;
  readonly address?: string | null;
}

interface Refusal {
  readonly site: string;
  readonly node: string;
  readonly reason: string;
  readonly field: string;
}

export interface GateParts<M extends Comes> {
  readonly sites: Sites;
  readonly store: LiveStore;
  readonly moments: Moments;
  /** The flow itself. */
  readonly pass: (message: M) => Promise<void>;
  readonly count: (name: string) => void;
}

/** Names that may wait at a site at once, and of these from one address. */
const MOST_KNOCKS = 50;
const MOST_PER_ADDRESS = 10;
/** What is held of one newcomer: a buffer of three days in packs of twelve rounds is some seventy messages. */
const MOST_HELD = 200;
const MOST_HELD_BYTES = 1024 * 1024;
/** A knock every few seconds must not wear a memory card out: the same one is written once in this time. */
const WRITE_MS = 30_000;
/** Refusals are written together after this time, or when so many wait. */
const LINES_MS = 500;
const MOST_LINES = 500;

export function createNodeGate<M extends Comes>({ sites, store, moments, pass, count }: GateParts<M>) {
  let lines: Refusal[] = [];
  let due: NodeJS.Timeout | null = null;
  const flush = (): void => {
    if (due !== null) clearTimeout(due);
    due = null;
    const all = lines.map((line) => ({ ...line, excerpt: "" }));
    lines = [];
    try {
      if (all.length > 0) store.together(() => store.quarantine.add(all, moments.now()));
    } catch {
      // A store that cannot write says so elsewhere; whoever was refused stays refused.
    }
  };
  /** Known at once to the site in memory, and soon to the store: a flood of refusals must not become one of writes. */
  const refuse = (line: Refusal): void => {
    count(`quarantined.${line.reason}`);
    sites.get(line.site)?.refuse(line.node, line.reason, 1);
    lines.push(line);
    if (lines.length >= MOST_LINES) flush();
    else due ??= setTimeout(flush, LINES_MS).unref();
  };

  const roomFor = (knocks: readonly Knock[], address: string | null): boolean =>
    knocks.length < MOST_KNOCKS &&
    (address === null || knocks.filter((one) => one.address === address).length < MOST_PER_ADDRESS);

  /** What stands after a knock; null when there is no room for one more. */
  const noted = (node: string, body: KnockBody, address: string | null, knocks: readonly Knock[]): Knock | null => {
    const nowMs = moments.now();
    const known = knocks.find((one) => one.node === node);
    const fresh = {
      node,
      body,
      address,
      state: "waiting",
      firstMs: nowMs,
      lastMs: nowMs,
      times: 1,
      others: 0,
    } as const;
    if (known === undefined) return roomFor(knocks, address) ? fresh : null;
    const same = fingerprintOf(known.body.key) === fingerprintOf(body.key);
    if (same) return { ...known, body, address, lastMs: nowMs, times: known.times + 1 };
    // The first stays until a person says no: nobody takes a name away from a node that waits.
    return known.state === "refused" ? fresh : { ...known, lastMs: nowMs, others: known.others + 1 };
  };

  const knock = (site: string, node: string, { payload, address = null }: Comes): void => {
    count("knocks");
    if (payload.length > LARGEST_KNOCK_BYTES) return refuse({ site, node, reason: "not a knock", field: "too large" });
    let said: unknown;
    try {
      said = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(payload));
    } catch {
      return refuse({ site, node, reason: "not a knock", field: "not JSON" });
    }
    const read = readKnock(said);
    if (!read.ok) return refuse({ site, node, reason: "not a knock", field: sayFaults(read.faults) });
    const knocks = store.nodes.knocks(site);
    const before = knocks.find((one) => one.node === node);
    const after = noted(node, read.value, address, knocks);
    if (after === null) return refuse({ site, node: "(others)", reason: "too many knocks", field: address ?? node });
    const news = before === undefined || before.state !== after.state || before.others !== after.others;
    if (news || after.lastMs - before.lastMs >= WRITE_MS) store.together(() => store.nodes.putKnock(site, after));
  };

  const hold = (site: string, node: string, { topic, payload }: Comes): void => {
    const waits = store.nodes.knocks(site).some((one) => one.node === node && one.state === "waiting");
    if (!waits) throw new Error("must knock first");
    const { messages, bytes } = store.nodes.heldSize(site, node);
    // Not acknowledged, so the node keeps it.
    if (messages >= MOST_HELD || bytes + payload.length > MOST_HELD_BYTES) throw new Error("holds enough of this node");
    const heardMs = moments.now();
    store.together(() => store.nodes.hold(site, node, { topic, payload, heardMs }));
    refuse({ site, node, reason: "not let in yet", field: `${messages + 1} messages are held` });
  };

  const takeOther = async (message: M): Promise<void> => {
    const topic = topicFrom(message.topic);
    const known = topic !== null && sites.get(topic.site) !== null;
    if (known && topic.kind === "knock") return knock(topic.site, topic.node, message);
    if (message.joining !== true) return pass(message);
    if (!known)
      return refuse({ site: topic?.site ?? "(none)", node: "(none)", reason: "unknown site", field: message.topic });
    if (topic.kind === "senml") hold(topic.site, topic.node, message);
  };

  return {
    refuse,
    /** Writes what was refused. */
    close: flush,
    /** Resolves when the message is on the disk, wherever it belongs. */
    take(message: M): Promise<void> {
      // Nearly all there is: the flow reads the topic by itself, and no promise stands around its own.
      return message.joining !== true && !message.topic.endsWith("/knock") ? pass(message) : takeOther(message);
    },
  };
}
export type NodeGate = ReturnType<typeof createNodeGate>;
