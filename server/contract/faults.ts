// Faults of a value that crossed a border: each names the field and the reason.
import type { TSchema, Static } from "typebox";
import { Compile } from "typebox/compile";

export interface Fault {
  /** JSON Pointer (RFC 6901) to the field. */
  readonly field: string;
  readonly reason: string;
}

/** Either the value, known to fit, or every fault found. */
export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly Fault[] };

interface RawError {
  readonly keyword: string;
  readonly instancePath: string;
  readonly message: string;
  readonly params: object;
}

function faultOf(error: RawError): Fault {
  const params = error.params as { additionalProperties?: string[]; requiredProperties?: string[] };
  if (error.keyword === "required") {
    return { field: `${error.instancePath}/${params.requiredProperties?.[0] ?? ""}`, reason: "is missing" };
  }
  if (error.keyword === "additionalProperties") {
    return { field: `${error.instancePath}/${params.additionalProperties?.[0] ?? ""}`, reason: "is not a known field" };
  }
  return { field: error.instancePath || "/", reason: error.message };
}

/** A strict reader for one schema: no coercion, unknown keys refused, all faults named. */
export function readerOf<S extends TSchema>(schema: S): (value: unknown) => Checked<Static<S>> {
  // Compiled when it is first used: all of them together take a third of a second of the start.
  let compiled: ReturnType<typeof Compile<S>> | null = null;
  return (value) => {
    const validator = (compiled ??= Compile(schema));
    if (validator.Check(value)) return { ok: true, value: value as Static<S> };
    const seen = new Set<string>();
    const faults: Fault[] = [];
    const errors = [...(validator.Errors(value) as unknown as RawError[])];
    for (const error of errors) {
      // "schema is false" repeats what additionalProperties says, anyOf repeats what its branches say.
      if (error.keyword === "boolean") continue;
      const fault = faultOf(error);
      if (error.keyword === "anyOf" && seen.has(fault.field)) continue;
      if (seen.has(fault.field + fault.reason)) continue;
      seen.add(fault.field).add(fault.field + fault.reason);
      faults.push(fault);
    }
    if (faults.length > 0) return { ok: false, faults };
    // An item too many is told by nothing but that.
    return { ok: false, faults: [{ field: errors[0]?.instancePath || "/", reason: "does not fit" }] };
  };
}

export function fail(field: string, reason: string): { readonly ok: false; readonly faults: readonly Fault[] } {
  return { ok: false, faults: [{ field, reason }] };
}

/** One line for a person: field and reason, at most three of them. */
export function sayFaults(faults: readonly Fault[]): string {
  const shown = faults.slice(0, 3).map((fault) => `${fault.field}: ${fault.reason}`);
  const rest = faults.length - shown.length;
  return shown.join("; ") + (rest > 0 ? `; and ${rest} more` : "");
}
