// Who is signed in on this device, as the server last said. With accounts off nobody has to be.
import type { AccessBody, May, Role, Who } from "#contract/access.ts";
import { ApiFailure } from "./api.ts";
import type { Keep } from "./keep.ts";
import { type Signal, signalOf } from "./signal.ts";

export interface Session {
  /** What the server said last; null = it never did, in this visit or a kept one. */
  readonly access: AccessBody | null;
  /** Another key is another person, or another reach of the same one. */
  readonly key: string;
  /** The server has said so in this visit: entries may be sent under this name. */
  readonly sure: boolean;
  /** Somebody was signed in here until the server ended it. */
  readonly ended: boolean;
}

export interface SessionDesk {
  readonly signal: Signal<Session>;
  /** Asks the server anew; what stands stays while it does not answer. */
  refresh(): Promise<void>;
  /** What the server said after somebody signed in or out here. */
  take(access: AccessBody): void;
  /** Another page of this browser has signed somebody in or out: nothing is sent until the server has said whom. */
  doubt(): void;
}

function keptFrom(raw: unknown): AccessBody | null {
  const kept = raw as Partial<AccessBody> | null;
  const fits = typeof kept === "object" && kept !== null && typeof kept.accounts === "string" && "who" in kept;
  return fits && Array.isArray(kept.sites) ? (kept as AccessBody) : null;
}

const OPEN: AccessBody = { accounts: "off", firstOwner: false, who: null, sites: [] };

/** Everything of a floor that this device keeps belongs to whoever was signed in. */
const BELONGINGS = ["board.", "sites"] as const;

const AGAIN_MS = 5000;

export function sessionDesk(
  keep: Keep,
  ask: () => Promise<AccessBody>,
  later: (run: () => void, ms: number) => void,
): SessionDesk {
  const kept = keptFrom(keep.read("access"));
  const signal = signalOf<Session>({ access: kept, key: keyOf(kept), sure: false, ended: false });
  let asked: Promise<void> | null = null;
  const settle = (access: AccessBody, own: boolean) => {
    const before = signal.get();
    const changed = before.access !== null && before.key !== keyOf(access);
    if (changed || isOut(access)) for (const prefix of BELONGINGS) keep.drop(prefix);
    keep.write("access", access);
    signal.set({ access, key: keyOf(access), sure: true, ended: isOut(access) && !own && (before.ended || changed) });
  };
  const askAnew = async () => {
    try {
      settle(await ask(), false);
    } catch (cause) {
      // A server of before knows of no accounts.
      if (cause instanceof ApiFailure && cause.status === 404) settle(OPEN, false);
      // Out of reach: the board says so by itself, but what waits to be sent waits for this answer.
      else if (!signal.get().sure) later(() => void refresh(), AGAIN_MS);
    }
    asked = null;
  };
  // Many requests can be turned away at once: one question answers them all.
  const refresh = () => (asked ??= askAnew());
  return {
    signal,
    refresh,
    take: (access) => settle(access, true),
    doubt() {
      signal.set({ ...signal.get(), sure: false });
      void refresh();
    },
  };
}

const keyOf = (access: AccessBody | null): string => (isOut(access) ? "out" : JSON.stringify(whoOf(access)));

export const isOut = (access: AccessBody | null): boolean => access?.accounts === "on" && access.who === null;

/** Who is signed in; null with accounts off, where nobody is asked. */
export const whoOf = (access: AccessBody | null): Who | null => (access?.accounts === "on" ? access.who : null);

/** The name under which entries go: null where nobody is asked for one, undefined where nobody can write. */
export function writerOf(access: AccessBody | null): string | null | undefined {
  if (access?.accounts !== "on") return null;
  return access.who?.kind === "person" ? (access.who.name ?? undefined) : undefined;
}

/** Each role lets in all that those after it let in; the words are the contract's, without the schema library behind it. */
const ORDER: readonly Role[] = ["owner", "lead", "helper", "inspector", "client"];
const LEAST: Readonly<Record<May, Role>> = {
  anyone: "client",
  client: "client",
  read: "inspector",
  write: "helper",
  plan: "lead",
  own: "owner",
};

/** Whether the role is let in. Before the server has answered everything is shown; it refuses by itself. */
export function mayOf(access: AccessBody | null, may: May): boolean {
  const role = whoOf(access)?.role;
  return role === undefined ? !isOut(access) : ORDER.indexOf(role) <= ORDER.indexOf(LEAST[may]);
}
