// Answers about people: a value, or a refusal that names field and reason.
import { type Fault, fail } from "#contract/faults.ts";

/** `unknown`: no such name and password. `wait`: too many tries; `waitS` says how long. */
export interface Refusal {
  readonly ok: false;
  readonly refusal: "missing" | "invalid" | "conflict" | "unknown" | "wait";
  readonly faults: readonly Fault[];
  readonly waitS?: number;
}
export type Answer<T> = { readonly ok: true; readonly value: T } | Refusal;

export function good<T>(value: T): Answer<T> {
  return { ok: true, value };
}

export function refuse(refusal: Refusal["refusal"], field: string, reason: string): Refusal {
  return { ...fail(field, reason), refusal };
}

export function mustWait(waitMs: number): Refusal {
  const waitS = Math.ceil(waitMs / 1000);
  return { ...refuse("wait", "/", `wait ${waitS} s before the next try`), waitS };
}
