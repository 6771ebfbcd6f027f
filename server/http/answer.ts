// Answers of the desk: a value, or a refusal of one of three kinds.
import type { Fault } from "#contract/faults.ts";

/** Refusals by kind: `missing` becomes 404, `invalid` 422, `conflict` 409. */
export interface Refusal {
  readonly ok: false;
  readonly refusal: "missing" | "invalid" | "conflict";
  readonly faults: readonly Fault[];
}
export type Answer<T> = { readonly ok: true; readonly value: T } | Refusal;
