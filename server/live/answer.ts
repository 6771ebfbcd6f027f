// Answers of the desk: a value, or a refusal that names field and reason.
import { type Fault, fail } from "#contract/faults.ts";

export interface Refusal {
  readonly ok: false;
  readonly refusal: "missing" | "invalid" | "conflict";
  readonly faults: readonly Fault[];
}
export type Answer<T> = { readonly ok: true; readonly value: T } | Refusal;

export function good<T>(value: T): Answer<T> {
  return { ok: true, value };
}

export function refuse(refusal: Refusal["refusal"], field: string, reason: string): Refusal {
  return { ...fail(field, reason), refusal };
}

export function refuseAll(refusal: Refusal["refusal"], faults: readonly Fault[]): Refusal {
  return { ok: false, refusal, faults };
}
