// Journal entries on the wire: one schema per kind of entry, dispatched by `did` so that a fault names its own field.
import Type from "typebox";
import { SALT_RANGE_C, SALTS } from "#core/air/salt-points.ts";
import type { JournalEntry, SplitPart } from "#core/zone/journal.ts";
import { type Checked, type Fault, fail, readerOf } from "#contract/faults.ts";
import { OutlineSchema } from "#contract/plan.ts";
import { Id, IsoTime, isoFromMs, msFromIso, Name, ProbeName, Text } from "#contract/primitives.ts";

const EntryId = Type.String({ pattern: "^[A-Za-z0-9][A-Za-z0-9._:-]{0,99}$" });
const common = {
  id: Type.Optional(EntryId),
  at: IsoTime,
  heardAt: Type.Optional(IsoTime),
  zone: Type.Optional(Type.Union([Id, Type.Null()])),
  by: Type.Optional(Type.Union([Name, Type.Null()])),
  /** Nothing is ever edited: a correction is a new entry that takes the old one's place, and says why. */
  undoes: Type.Optional(EntryId),
  why: Type.Optional(Type.String({ minLength: 1, maxLength: 2000 })),
};
const Hours = Type.Number({ exclusiveMinimum: 0, maximum: 10_000 });
const Temperature = Type.Number({ minimum: -60, maximum: 80 });
const Percent = Type.Number({ minimum: 0, maximum: 100 });
const Coat = Type.Integer({ minimum: 0, maximum: 99 });
/** A batch number as it stands on the pail; `part` names the component (A, B, hardener, flake). */
export const BatchSchema = Type.Object({ part: Type.Optional(Name), number: Name }, { additionalProperties: false });
const DayOnly = Type.String({ pattern: "^\\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\\d|3[01])$" });
const Why = Type.String({ minLength: 1, maxLength: 2000 });

function kind<const D extends string, P extends Record<string, Type.TSchema>>(did: D, properties: P) {
  // A kind that must say why has a `why` of its own in place of the common one.
  const all = { ...common, did: Type.Literal(did), ...properties } as Omit<typeof common, keyof P> & {
    did: Type.TLiteral<D>;
  } & P;
  return Type.Object(all, { additionalProperties: false });
}

/** Whoever marks a step as one with solvent must confirm it; a step that is not marked is taken as it always was. */
const solventStep = {
  solvent: Type.Optional(Type.Boolean({ description: "with solvent, or a solvent-borne coat" })),
  confirmed: Type.Optional(
    Type.Boolean({ description: "no flame, heater or spark is in the room, and it is ventilated" }),
  ),
};

const KINDS = {
  poured: kind("poured", {
    coat: Coat,
    from: IsoTime,
    to: IsoTime,
    broadcast: Type.Optional(Type.Union([Type.Literal("full"), Type.Literal("partial")])),
    product: Type.Optional(Name),
    batches: Type.Optional(Type.Array(BatchSchema, { maxItems: 200 })),
    people: Type.Optional(Type.Array(Name, { maxItems: 100 })),
  }),
  pouring: kind("pouring", { coat: Coat, ...solventStep }),
  mixed: kind("mixed", {
    coat: Coat,
    /** Which mix of this coat, from 1. */
    batch: Type.Integer({ minimum: 1, maximum: 9999 }),
    volumeL: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 10_000 })),
    batches: Type.Optional(Type.Array(BatchSchema, { maxItems: 20 })),
  }),
  abraded: kind("abraded", { how: Type.Optional(Text) }),
  washed: kind("washed", solventStep),
  cleaned: kind("cleaned", solventStep),
  inspected: kind("inspected", {
    surface: Type.Optional(Type.Enum(["clean", "greasy", "dusty", "damp", "dry"])),
    film: Type.Optional(Type.Enum(["hard", "soft"])),
  }),
  measured: kind("measured", {
    slabC: Type.Optional(Temperature),
    airC: Type.Optional(Temperature),
    rhPct: Type.Optional(Percent),
    resinC: Type.Optional(Temperature),
    instrument: Type.Optional(Name),
    calibratedOn: Type.Optional(DayOnly),
    probe: Type.Optional(ProbeName),
  }),
  "salt-bagged": kind("salt-bagged", { probe: ProbeName, salt: Type.Enum([...SALTS]) }),
  "salt-checked": kind("salt-checked", {
    probe: ProbeName,
    salt: Type.Enum([...SALTS]),
    soakH: Type.Number({ exclusiveMinimum: 0, maximum: 1000 }),
    readPct: Percent,
    airC: Type.Number({ minimum: SALT_RANGE_C.min, maximum: SALT_RANGE_C.max }),
  }),
  tested: kind("tested", {
    method: Type.Enum(["F2170", "F1869"]),
    rhPct: Type.Optional(Percent),
    mverLb: Type.Optional(Type.Number({ minimum: 0, maximum: 200 })),
    spot: Type.Optional(Name),
  }),
  profile: kind("profile", {
    csp: Type.Optional(Type.Integer({ minimum: 1, maximum: 10 })),
    profileUm: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 20_000 })),
    how: Type.Optional(Text),
    spot: Type.Optional(Name),
  }),
  adhesion: kind("adhesion", {
    mpa: Type.Number({ minimum: 0, maximum: 100 }),
    how: Type.Enum(["D4541", "D7234", "C1583", "EN1542", "other"]),
    failure: Type.Optional(Type.Enum(["concrete", "within-coat", "between", "glue"])),
    spot: Type.Optional(Name),
  }),
  photographed: kind("photographed", {
    photo: Type.String({ pattern: "^[0-9a-f]{64}$" }),
    of: Type.Optional(Type.Enum(["floor", "sheet", "probe", "batch", "test", "finding"])),
    sheet: Type.Optional(Id),
    probe: Type.Optional(ProbeName),
    note: Type.Optional(Text),
  }),
  ventilated: kind("ventilated", { on: Type.Boolean(), how: Type.Optional(Text) }),
  /** Hard after typed hours of the clock, or by the hours of a filler's sheet at the coldest slab; with both, the later. */
  filled: kind("filled", { hardAfterH: Type.Optional(Hours), sheet: Type.Optional(Id) }),
  "coat-added": kind("coat-added", { sheet: Id }),
  forecast: kind("forecast", { lowC: Temperature, dewPointC: Temperature, until: IsoTime }),
  heating: kind("heating", {
    on: Type.Boolean(),
    vented: Type.Optional(Type.Boolean()),
    kW: Type.Optional(Type.Number({ minimum: 0, maximum: 10_000 })),
    fuel: Type.Optional(Type.Enum(["propane", "natural-gas", "kerosene", "diesel", "electric", "other"])),
    from: Type.Optional(IsoTime),
    to: Type.Optional(IsoTime),
    targetC: Type.Optional(Temperature),
  }),
  held: kind("held", { why: Why }),
  released: kind("released", {}),
  overrode: kind("overrode", { call: Type.Enum(["pour", "wait", "abrade", "finished"]), why: Why }),
  split: kind("split", {
    into: Type.Array(
      Type.Object(
        {
          id: Id,
          name: Type.Optional(Name),
          areaM2: Type.Number({ exclusiveMinimum: 0, maximum: 1e6 }),
          probes: Type.Optional(Type.Array(ProbeName, { minItems: 1, maxItems: 100 })),
          outline: Type.Optional(OutlineSchema),
        },
        { additionalProperties: false },
      ),
      { minItems: 2, maxItems: 20 },
    ),
  }),
  moved: kind("moved", {
    probe: ProbeName,
    place: Type.Optional(Name),
    xM: Type.Optional(Type.Number()),
    yM: Type.Optional(Type.Number()),
  }),
  retired: kind("retired", { probe: ProbeName }),
  trusted: kind("trusted", { probe: ProbeName, why: Why }),
  undone: kind("undone", { undoes: EntryId }),
} as const;

export type EntryBody = { [K in keyof typeof KINDS]: Type.Static<(typeof KINDS)[K]> }[keyof typeof KINDS];
/** The compiler cannot see through the list of values, so the type of an entry is named. */
export const JournalEntrySchema = Type.Unsafe<EntryBody>(Type.Union(Object.values(KINDS)));

const readers = Object.fromEntries(Object.entries(KINDS).map(([did, schema]) => [did, readerOf(schema)]));
const SITE_WIDE: readonly string[] = ["heating", "forecast", "undone", "ventilated", "photographed"];

/** Reads one entry strictly by the schema of its kind. */
export function readEntryBody(value: unknown): Checked<EntryBody> {
  const did = typeof value === "object" && value !== null && "did" in value ? value.did : undefined;
  const reader = typeof did === "string" && Object.hasOwn(readers, did) ? readers[did] : undefined;
  if (reader === undefined) return fail("/did", `must be one of ${Object.keys(KINDS).join(", ")}`);
  const checked = reader(value) as Checked<EntryBody>;
  if (!checked.ok) return checked;
  const faults = entryFaults(checked.value);
  return faults.length > 0 ? { ok: false, faults } : checked;
}

function timeFault(body: EntryBody, field: string): Fault[] {
  const value = (body as Record<string, unknown>)[field];
  return typeof value === "string" && Number.isNaN(msFromIso(value))
    ? [{ field: `/${field}`, reason: "names a day or time that does not exist" }]
    : [];
}

function entryFaults(body: EntryBody): Fault[] {
  const faults = ["at", "heardAt", "from", "to", "until"].flatMap((field) => timeFault(body, field));
  if (faults.length > 0) return faults;
  if ((body.zone ?? null) === null && !SITE_WIDE.includes(body.did))
    faults.push({ field: "/zone", reason: "is missing" });
  if (body.heardAt !== undefined && msFromIso(body.heardAt) < msFromIso(body.at) - 60_000) {
    faults.push({ field: "/heardAt", reason: "lies before the entry's own time" });
  }
  if (body.did === "poured" && msFromIso(body.to) < msFromIso(body.from)) {
    faults.push({ field: "/to", reason: "lies before from" });
  }
  if (
    body.did === "heating" &&
    body.from !== undefined &&
    body.to !== undefined &&
    msFromIso(body.to) < msFromIso(body.from)
  ) {
    faults.push({ field: "/to", reason: "lies before from" });
  }
  if (body.did === "tested" && body.method === "F2170" && body.rhPct === undefined) {
    faults.push({ field: "/rhPct", reason: "is missing: F2170 gives a humidity in percent" });
  }
  if (body.did === "tested" && body.method === "F1869" && body.mverLb === undefined) {
    faults.push({ field: "/mverLb", reason: "is missing: F1869 gives an emission in lb per 1000 ft2 per 24 h" });
  }
  if (body.did === "inspected" && body.surface === undefined && body.film === undefined) {
    faults.push({ field: "/surface", reason: "is missing: an inspection finds a surface, a film, or both" });
  }
  if (body.did === "filled" && body.hardAfterH === undefined && body.sheet === undefined) {
    faults.push({ field: "/hardAfterH", reason: "is missing: typed hours, or the sheet of the filler" });
  }
  if ("solvent" in body && body.solvent === true && body.confirmed !== true) {
    faults.push({
      field: "/confirmed",
      reason: "must be true for a step with solvent: no flame, heater or spark in the room, and it is ventilated",
    });
  }
  if (body.did === "profile" && body.csp === undefined && body.profileUm === undefined) {
    faults.push({ field: "/csp", reason: "is missing: a profile is a CSP number, a depth, or both" });
  }
  if ((body.did === "salt-bagged" || body.did === "salt-checked") && !body.probe.endsWith("/rh")) {
    faults.push({ field: "/probe", reason: "is no humidity: a salt check is of a node's rh" });
  }
  if (
    body.did === "measured" &&
    [body.slabC, body.airC, body.rhPct, body.resinC].every((value) => value === undefined)
  ) {
    faults.push({ field: "/slabC", reason: "is missing: a measurement gives at least one value" });
  }
  return faults;
}

/** Optional keys stay absent: `undefined` is dropped so that an entry compares equal after a round trip. */
function present<T extends object>(value: T): T {
  return Object.fromEntries(Object.entries(value).filter(([, item]) => item !== undefined)) as T;
}

/** The core's entry. `id` and `heardMs` stand in where the body leaves them out. */
export function entryFromBody(body: EntryBody, id: string, heardMs: number): JournalEntry {
  const { at, heardAt, from, to, until, ...rest } = body as EntryBody & { from?: string; to?: string; until?: string };
  return present({
    ...rest,
    id: body.id ?? id,
    zone: body.zone ?? null,
    by: body.by ?? null,
    atMs: msFromIso(at),
    heardMs: heardAt === undefined ? heardMs : msFromIso(heardAt),
    fromMs: from === undefined ? undefined : msFromIso(from),
    toMs: to === undefined ? undefined : msFromIso(to),
    untilMs: until === undefined ? undefined : msFromIso(until),
  }) as unknown as JournalEntry;
}

export function bodyFromEntry(entry: JournalEntry): EntryBody {
  const { atMs, heardMs, fromMs, toMs, untilMs, ...rest } = entry as JournalEntry & {
    fromMs?: number;
    toMs?: number;
    untilMs?: number;
    into?: readonly SplitPart[];
  };
  return present({
    ...rest,
    at: isoFromMs(atMs),
    heardAt: isoFromMs(heardMs),
    from: fromMs === undefined ? undefined : isoFromMs(fromMs),
    to: toMs === undefined ? undefined : isoFromMs(toMs),
    until: untilMs === undefined ? undefined : isoFromMs(untilMs),
  }) as unknown as EntryBody;
}
