// A message from a broker, what is read from it, and what comes of it. Types only.
import type { Reading } from "#contract/reading.ts";

export interface Message {
  readonly topic: string;
  readonly payload: Uint8Array;
  /** It may have waited somewhere (kept by the broker, sent again): a time relative to now would be wrong. */
  readonly replayed: boolean;
  /** User name of the client that sent it; null when the broker does not tell. */
  readonly from: string | null;
  /** The node whose password it was sent with; it speaks for itself alone. */
  readonly node?: { readonly site: string; readonly node: string } | null;
  /** True if the client knows a join secret and nothing more. */
  readonly joining?: boolean;
  /** Where it came from, as far as the broker tells. */
  readonly address?: string | null;
}

/** Something refused, with what is needed to see why. */
export interface Refused {
  readonly site: string;
  readonly node: string;
  readonly reason: string;
  readonly field: string;
  /** The beginning of what was sent. */
  readonly excerpt: string;
}

export type Presence = "online" | "offline";

/** What a message says, before it is known whether anybody wants to hear it. */
export interface Decoded {
  readonly site: string;
  readonly node: string;
  readonly from: string | null;
  /** True if the sender has proved to be `from`: it then speaks for itself alone, known or not. */
  readonly proved: boolean;
  /** The gateway that the recipe of this message names: it sends for many. */
  readonly gateway: string | null;
  /** The beginning of what was sent; made when it is asked for, since most messages are in order. */
  readonly excerpt: () => string;
  readonly readings: readonly Reading[];
  readonly presence: Presence | null;
  readonly refused: readonly Refused[];
}

/** What is to be kept of a message. */
export interface Accepted {
  readonly site: string;
  readonly node: string;
  readonly excerpt: () => string;
  /** Of this site, each of the node that its device spoke as at its time. */
  readonly readings: readonly Reading[];
  readonly presence: Presence | null;
  readonly refused: readonly Refused[];
}

/** Resolves when everything of the message is on the disk; only then may it be acknowledged. */
export type Take = (message: Message) => Promise<void>;
