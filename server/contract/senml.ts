// SenML packs (RFC 8428, JSON): resolved to the letter. One base state runs through the pack.
import type { SenmlRecord } from "#contract/senml-schema.ts";
import { type Checked, fail } from "#contract/faults.ts";

/** A record after resolution (RFC 8428 section 4.6): no base fields, absolute time in seconds. */
export interface ResolvedRecord {
  readonly n: string;
  readonly u?: string;
  readonly t: number;
  readonly v?: number;
  readonly vs?: string;
  readonly vb?: boolean;
  readonly vd?: string;
  readonly s?: number;
  readonly ut?: number;
  /** Index of the record in its pack, for messages and for labels of our own. */
  readonly index: number;
}

/** Version of SenML that this reader understands; a pack with a larger one must not be used. */
const SENML_VERSION = 10;
/** Below this the sum of base time and time counts from now (RFC 8428 section 4.5.3). */
const RELATIVE_BELOW_S = 2 ** 28;
const NAME = /^[A-Za-z0-9][A-Za-z0-9\-:./_]*$/;
const NUMBERS = ["bt", "bv", "bs", "bver", "v", "s", "t", "ut"] as const;
const STRINGS = ["bn", "bu", "n", "u", "vs", "vd"] as const;
type Kind = "number" | "string" | "boolean";
const KINDS: ReadonlyMap<string, Kind> = new Map<string, Kind>([
  ...NUMBERS.map((label) => [label, "number"] as const),
  ...STRINGS.map((label) => [label, "string"] as const),
  ["vb", "boolean"],
]);
const ASKED: Readonly<Record<Kind, string>> = {
  number: "must be a number",
  string: "must be a string",
  boolean: "must be true or false",
};

function shapeFault(record: unknown, at: string, ours: ReadonlySet<string>) {
  if (typeof record !== "object" || record === null || Array.isArray(record)) return fail(at, "must be an object");
  const fields = record as Record<string, unknown>;
  for (const label in fields) {
    const kind = KINDS.get(label);
    const value = fields[label];
    if (kind === undefined) {
      if (label.endsWith("_") && !ours.has(label)) return fail(`${at}/${label}`, "must be understood, and is not");
    } else if (value !== undefined && (typeof value !== kind || (kind === "number" && !Number.isFinite(value)))) {
      return fail(`${at}/${label}`, ASKED[kind]);
    }
  }
  return null;
}

/**
 * Resolves a pack. `nowS` is the time relative records count from, seconds since 1970.
 * Labels in `ours` are passed over here and read by the caller through `index`.
 * Resolved records stand in chronological order, those of one time in the pack's order.
 */
export function resolveSenml(
  pack: unknown,
  nowS: number,
  ours: ReadonlySet<string> = new Set(),
): Checked<ResolvedRecord[]> {
  if (!Array.isArray(pack)) return fail("/", "must be an array of records");
  if (pack.length === 0) return fail("/", "holds no record");
  const resolved: ResolvedRecord[] = [];
  const base = {
    n: "",
    t: 0,
    u: undefined as string | undefined,
    v: undefined as number | undefined,
    s: undefined as number | undefined,
  };
  let version: number | undefined;
  for (const [index, raw] of pack.entries()) {
    const at = `/${index}`;
    const fault = shapeFault(raw, at, ours);
    if (fault) return fault;
    const record = raw as SenmlRecord;
    if (record.bver !== undefined) {
      if (record.bver > SENML_VERSION)
        return fail(`${at}/bver`, `version ${record.bver} is newer than ${SENML_VERSION}`);
      if (!Number.isInteger(record.bver) || record.bver < 1)
        return fail(`${at}/bver`, "must be a positive whole number");
      if (version !== undefined && version !== record.bver) return fail(`${at}/bver`, "differs within one pack");
      version = record.bver;
    }
    if (record.bn !== undefined) base.n = record.bn;
    if (record.bt !== undefined) base.t = record.bt;
    if (record.bu !== undefined) base.u = record.bu;
    if (record.bv !== undefined) base.v = record.bv;
    if (record.bs !== undefined) base.s = record.bs;
    const values = [record.v, record.vs, record.vb, record.vd].filter((value) => value !== undefined).length;
    const hasSum = record.s !== undefined || (values === 0 && base.s !== undefined && record.n !== undefined);
    if (values > 1) return fail(at, "carries more than one value");
    if (values === 0 && !hasSum) {
      // A record of base fields alone sets the base and says nothing itself; bv alone is a value only with a name.
      if (record.n === undefined && record.t === undefined) continue;
      if (base.v === undefined) return fail(at, "carries no value");
    }
    const name = base.n + (record.n ?? "");
    if (!NAME.test(name))
      return fail(`${at}/n`, name === "" ? "has no name" : `"${name.slice(0, 80)}" is not a SenML name`);
    const sumT = base.t + (record.t ?? 0);
    const numeric = record.v !== undefined || (values === 0 && base.v !== undefined);
    const unit = record.u ?? base.u;
    const out: Record<string, unknown> = { n: name, t: sumT < RELATIVE_BELOW_S ? nowS + sumT : sumT, index };
    if (unit !== undefined) out.u = unit;
    if (numeric) out.v = (base.v ?? 0) + (record.v ?? 0);
    if (record.vs !== undefined) out.vs = record.vs;
    if (record.vb !== undefined) out.vb = record.vb;
    if (record.vd !== undefined) out.vd = record.vd;
    if (record.s !== undefined || base.s !== undefined) out.s = (base.s ?? 0) + (record.s ?? 0);
    if (record.ut !== undefined) out.ut = record.ut;
    resolved.push(out as unknown as ResolvedRecord);
  }
  resolved.sort((a, b) => a.t - b.t);
  return { ok: true, value: resolved };
}
