// Who a client of the built-in broker is, and which topics that lets it write and read.
import { createHash, timingSafeEqual } from "node:crypto";
import { TOPIC_ROOT, type Topic, topicFrom, topicOf } from "#contract/topics.ts";

/**
 * `open`: nobody asked. `joining`: knows a join secret; `site` null = that of the whole house. `node`: has its own password.
 * `siren`: has one too, hears whether to sound, and writes nothing.
 */
export type Guest =
  | { readonly role: "open"; readonly name: string | null }
  | { readonly role: "joining"; readonly site: string | null }
  | { readonly role: "node"; readonly site: string; readonly node: string }
  | { readonly role: "siren"; readonly site: string; readonly siren: string };

/** What the broker must know to tell who comes. */
export interface Doorbook {
  joinSecret(site: string): string | null;
  /** SHA-256 of a node's password, in hexadecimal; null when it has none. */
  nodeKey(site: string, node: string): string | null;
  /** SHA-256 of a siren's password, in hexadecimal; null where there is no such siren. */
  sirenKey(site: string, siren: string): string | null;
  knowsNode(site: string, node: string): boolean;
  /** True if a recipe of the site reads this topic. */
  readsTopic(site: string, topic: string): boolean;
}

export interface SignIn {
  readonly username: string;
  readonly password: string | Buffer;
}

const CALLS_AND_ALARMS = new RegExp(
  `^${TOPIC_ROOT}/(\\+|[A-Za-z0-9_-]+)/(alarm|siren|about|zone/(\\+|[A-Za-z0-9_-]+)/call)$`,
);

export const digest = (text: string | Buffer) => createHash("sha256").update(text).digest();

/** Both are digests: they have one length, and the time tells nothing. */
function isKey(given: Buffer, key: string): boolean {
  const wanted = Buffer.from(key, "hex");
  return wanted.length === given.length && timingSafeEqual(given, wanted);
}

/**
 * null = not let in. `house`: the join secret of the settings. `open`: on a loopback address without one, whoever names
 * nothing that has a password is let in as before.
 */
export function guestOf(
  { username, password }: SignIn,
  book: Doorbook,
  { house, open }: { readonly house: string | null; readonly open: boolean },
): Guest | null {
  const given = digest(password);
  const [site = "", node, ...rest] = username.split("/");
  const [siren, ...more] = rest;
  if (node === "siren" && siren !== undefined && more.length === 0) {
    const key = book.sirenKey(site, siren);
    return key !== null && isKey(given, key) ? { role: "siren", site, siren } : null;
  }
  if (node !== undefined && rest.length === 0) {
    const key = book.nodeKey(site, node);
    if (key !== null) return isKey(given, key) ? { role: "node", site, node } : null;
  }
  if (house !== null && timingSafeEqual(given, digest(house))) return { role: "joining", site: null };
  const secret = node === undefined ? book.joinSecret(site) : null;
  if (secret !== null && password.length > 0)
    return timingSafeEqual(given, digest(secret)) ? { role: "joining", site } : null;
  return open ? { role: "open", name: username === "" ? null : username } : null;
}

/** Why this client may not write to a topic; null if it may. `topic` is what its name says, where that is known. */
export function barredFrom(
  guest: Guest,
  name: string,
  book: Doorbook,
  topic: Topic | null = topicFrom(name),
): string | null {
  const own = topic !== null && "node" in topic ? topic : null;
  switch (guest.role) {
    case "open":
      // What has a password of its own is written by nobody else, not even on this machine.
      return own !== null && own.kind !== "knock" && book.nodeKey(own.site, own.node) !== null
        ? "needs the password of this node"
        : null;
    case "node":
      if (own === null) {
        return topic === null && book.readsTopic(guest.site, name) ? null : "topic it may not write";
      }
      if (own.site !== guest.site || own.node !== guest.node) return "topic of another node";
      return own.kind === "knock" ? "is let in already" : null;
    case "siren":
      return "a siren writes nothing";
    case "joining":
      if (own === null || (guest.site !== null && own.site !== guest.site)) return "may only knock";
      // Let in, it has its own password; until then its readings are held.
      return own.kind !== "knock" && book.knowsNode(own.site, own.node) ? "needs the password of this node" : null;
  }
}

/** A node reads nothing, a siren the alarms of its site; whoever is on this machine may hear calls and alarms. */
export function mayHear(guest: Guest, filter: string): boolean {
  if (guest.role === "siren") {
    const { site } = guest;
    return filter === topicOf({ kind: "siren", site }) || filter === topicOf({ kind: "alarm", site });
  }
  return guest.role === "open" && CALLS_AND_ALARMS.test(filter);
}

/** Whom something refused is counted for. */
export function nameOf(guest: Guest, topic: string): { readonly site: string; readonly node: string } {
  const of = topicFrom(topic);
  if (guest.role === "node") return { site: guest.site, node: guest.node };
  if (guest.role === "siren") return { site: guest.site, node: "(siren)" };
  return { site: of?.site ?? "(none)", node: of !== null && "node" in of ? of.node : "(none)" };
}
