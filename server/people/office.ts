// What the parts of this folder share: the store, the time, and the ways to hash and to make people wait.
import type { Who } from "#contract/access.ts";
import type { Hashing } from "./hashing.ts";
import type { PeopleStore } from "./ports.ts";
import type { Throttle } from "./throttle.ts";

export interface PeopleOffice {
  readonly store: PeopleStore;
  /** Wall clock: a time-lapse of the site does not age sessions. */
  readonly nowMs: () => number;
  readonly hashing: Hashing;
  readonly throttle: Throttle;
  /** Names of sites, which make poor passwords. */
  readonly siteNames: () => readonly string[];
}

/** Whoever stands at the door: where from, with which device token, and what the browser says of itself. */
export interface Caller {
  readonly address: string;
  readonly device: string | null;
  readonly agent: string;
}

/** Somebody whom the door has recognised. `id` is that of the person or link. */
export interface Known {
  readonly who: Who;
  readonly session: string;
  readonly id: string;
}

/** Just signed in: both tokens go into cookies and nowhere else. */
export interface Signed {
  readonly who: Who;
  readonly token: string;
  readonly device: string;
}
