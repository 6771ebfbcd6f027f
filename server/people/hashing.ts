// Passwords are hashed by argon2id with the parameters that OWASP recommends, within a budget of the machine.
import { hash, verify } from "@node-rs/argon2";
import { plainPassword } from "./password-rules.ts";
import { newToken } from "./secrets.ts";

/** OWASP Password Storage Cheat Sheet, argon2id: 19 MiB, two passes, one lane. */
const PARAMETERS = { algorithm: 2, memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

export interface HashBudget {
  /** Hashes a second in the long run. One takes some 40 ms of one core. */
  readonly perS: number;
  /** As many may come at once. */
  readonly burst: number;
}

/** Whoever floods the door from anywhere shares `stranger`; devices that have been here before have their own lane. */
export type Lane = "stranger" | "known";

export interface Hashing {
  hash(password: string): Promise<string>;
  /** `kept` null: nobody has that name, and it takes as long. `busy`: the budget is spent. */
  verify(kept: string | null, password: string, lane: Lane): Promise<boolean | "busy">;
  /** Whether a lane has room for one more; takes it. */
  take(lane: Lane): boolean;
}

/** `check`: compares a password with what is kept of one; argon2 unless given. */
export function createHashing(
  steadyMs: () => number,
  budget: HashBudget = { perS: 4, burst: 12 },
  check: (kept: string, password: string) => Promise<boolean> = verify,
): Hashing {
  const left: Record<Lane, { tokens: number; atMs: number }> = {
    stranger: { tokens: budget.burst, atMs: steadyMs() },
    known: { tokens: budget.burst, atMs: steadyMs() },
  };
  const make = (password: string) => hash(plainPassword(password), PARAMETERS);
  let nobody: Promise<string> | null = null;
  const take = (lane: Lane) => {
    const of = left[lane];
    const nowMs = steadyMs();
    of.tokens = Math.min(budget.burst, of.tokens + ((nowMs - of.atMs) / 1000) * budget.perS);
    of.atMs = nowMs;
    if (of.tokens < 1) return false;
    of.tokens -= 1;
    return true;
  };
  return {
    hash: make,
    take,
    async verify(kept, password, lane) {
      if (!take(lane)) return "busy";
      nobody ??= make(newToken());
      const against = kept ?? (await nobody);
      const right = await check(against, plainPassword(password));
      return right && kept !== null;
    },
  };
}
