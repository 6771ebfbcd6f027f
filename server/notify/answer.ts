// Answers about contacts: a value, or a refusal that names field and reason.
import { type Fault, fail } from "#contract/faults.ts";

export type Answer<T> =
  | { readonly ok: true; readonly value: T }
  | {
      readonly ok: false;
      readonly refusal: "missing" | "invalid" | "conflict";
      readonly faults: readonly Fault[];
    };
type Refusal = Extract<Answer<never>, { ok: false }>;

export function good<T>(value: T): Answer<T> {
  return { ok: true, value };
}

export function refuse(refusal: Refusal["refusal"], field: string, reason: string): Refusal {
  return { ...fail(field, reason), refusal };
}
