// Packs of a node that never learnt the time: told apart by labels that must be understood, and never dated by guessing.
import type { ResolvedRecord } from "#contract/senml.ts";
import { type Checked, fail } from "#contract/faults.ts";

/**
 * `boot_`: how often the node had started when it measured. `up_`: seconds of its monotonic counter since that start, in
 * place of a time. Labels that end in _ must be understood or the pack be refused (RFC 8428 section 4.4), so no other
 * reader takes these for readings of now.
 */
export const UNTIMED_LABELS: ReadonlySet<string> = new Set(["boot_", "up_"]);

export interface Untimed {
  readonly boot: number;
  readonly fromUpS: number;
  readonly toUpS: number;
  readonly readings: number;
}

/** null when the pack carries times as usual. */
export function untimedIn(pack: unknown, resolved: readonly ResolvedRecord[]): Checked<Untimed> | null {
  const records = pack as readonly Record<string, unknown>[];
  if (!records.some((record) => "boot_" in record || "up_" in record)) return null;
  const boot = records[0]?.["boot_"];
  if (typeof boot !== "number" || !Number.isInteger(boot) || boot < 0)
    return fail("/0/boot_", "must be a whole number: how often the node has started");
  let upS = Number.NaN;
  const ups: number[] = [];
  for (const [index, record] of records.entries()) {
    for (const label of ["t", "bt"])
      if (label in record) return fail(`/${index}/${label}`, "stands beside up_: one of them only");
    if (index > 0 && "boot_" in record) return fail(`/${index}/boot_`, "stands in the first record only");
    const said = record["up_"];
    if (said !== undefined) {
      if (typeof said !== "number" || !(said >= 0)) return fail(`/${index}/up_`, "must be seconds since the start");
      upS = said;
    }
    if (Number.isNaN(upS)) return fail(`/${index}/up_`, "is missing");
    ups.push(upS);
  }
  return {
    ok: true,
    value: { boot, fromUpS: Math.min(...ups), toUpS: Math.max(...ups), readings: resolved.length },
  };
}
