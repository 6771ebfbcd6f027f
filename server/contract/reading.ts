// Readings: the quantities that a node may send, their units, and how a resolved SenML record becomes a reading.
import type { ResolvedRecord } from "#contract/senml.ts";
import { type Checked, fail } from "#contract/faults.ts";

export interface Reading {
  readonly node: string;
  readonly quantity: string;
  readonly atMs: number;
  readonly value: number;
}

/** SenML unit of each quantity (IANA registry): `slab` may be numbered (`slab.2`). Door is a boolean: 1 open, 0 shut. */
export const QUANTITY_UNITS = {
  slab: ["Cel"],
  air: ["Cel"],
  rh: ["%RH"],
  dew: ["Cel"],
  battery: ["%EL", "V"],
  rssi: ["dBm"],
  door: [],
} as const;
export type QuantityKind = keyof typeof QUANTITY_UNITS;

const NUMBERED_SLAB = /^slab\.[0-9]{1,3}$/;

/** The kind of a quantity name (`slab.2` is a slab), or null if it is none of ours. */
export function quantityKind(quantity: string): QuantityKind | null {
  switch (quantity) {
    case "slab":
    case "air":
    case "rh":
    case "dew":
    case "battery":
    case "rssi":
    case "door":
      return quantity;
    default:
      return NUMBERED_SLAB.test(quantity) ? "slab" : null;
  }
}

export function isSlabQuantity(quantity: string): boolean {
  return quantityKind(quantity) === "slab";
}

/** One reading from one record named `{node}/{quantity}`; `at` is the place in the pack, for messages. */
export function readingFromRecord(record: ResolvedRecord): Checked<Reading> {
  const at = `/${record.index}`;
  const slash = record.n.lastIndexOf("/");
  const node = record.n.slice(0, slash);
  const quantity = record.n.slice(slash + 1);
  const kind = quantityKind(quantity);
  if (slash < 1 || kind === null)
    return fail(`${at}/n`, `"${record.n.slice(0, 80)}" is not node/quantity with a quantity that is known`);
  if (kind === "door") {
    if (record.vb === undefined) return fail(`${at}/vb`, "is missing: a door is open (true) or shut (false)");
    return { ok: true, value: { node, quantity, atMs: Math.round(record.t * 1000), value: record.vb ? 1 : 0 } };
  }
  if (record.v === undefined) return fail(`${at}/v`, "is missing: this quantity is a number");
  const units: readonly string[] = QUANTITY_UNITS[kind];
  if (record.u === undefined) return fail(`${at}/u`, `is missing: ${quantity} comes in ${units.join(" or ")}`);
  if (!units.includes(record.u))
    return fail(`${at}/u`, `"${record.u.slice(0, 20)}" is not a unit of ${quantity} (${units.join(" or ")})`);
  return { ok: true, value: { node, quantity, atMs: Math.round(record.t * 1000), value: record.v } };
}
