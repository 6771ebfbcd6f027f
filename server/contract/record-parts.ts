// The parts of a coat's record: columns of conditions, stretches, passages of a film, rules of the field, and the day's heads.
import Type from "typebox";
import { CallWordSchema, RuleIdSchema, RuleResultSchema } from "#contract/call.ts";
import { BatchSchema, JournalEntrySchema } from "#contract/journal.ts";
import { Id, IsoTime, NullableNumber, NullableTime, Text } from "#contract/primitives.ts";
import { SheetSchema, StepSchema } from "#contract/sheet.ts";

const closed = { additionalProperties: false } as const;
export const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
export const Hash = Type.String({ pattern: "^[0-9a-f]{64}$", description: "SHA-256, lower-case hexadecimal" });
/** A day of the chain is a day of UTC. */
export const Day = Type.String({ pattern: "^\\d{4}-\\d{2}-\\d{2}$" });
const Column = Type.Array(NullableNumber);

/** Conditions as they were read: columns of one length, epoch ms and SI. null where the quantity was not known: gaps stay. */
export const ConditionColumnsSchema = Type.Object(
  {
    atMs: Type.Array(Type.Integer()),
    slabColdC: Column,
    slabHotC: Column,
    airC: Column,
    rhPct: Column,
    dewPointC: Column,
    marginK: Column,
  },
  closed,
);
export type ConditionColumnsBody = Type.Static<typeof ConditionColumnsSchema>;

/** A stretch without evidence. `no-slab`, `no-air`: one side was missing; `nothing`: both. `server-off`: nobody was there to hear. */
export const GapSchema = Type.Object(
  { from: IsoTime, to: IsoTime, reason: Type.Enum(["nothing", "no-slab", "no-air", "server-off"]) },
  closed,
);
export type GapBody = Type.Static<typeof GapSchema>;

/** A doubt about a probe as the judge had it. `to` null: it stood at the end of the record. */
export const FaultSchema = Type.Object(
  {
    from: IsoTime,
    to: NullableTime,
    probe: Type.String(),
    kind: Type.Enum([
      "saturated",
      "detached",
      "conflict",
      "own-dew-point",
      "unit",
      "clock",
      "sun-struck",
      "frozen",
      "reads-low",
      "off-from-hand",
      "outvoted",
      "solvent",
      "error-code",
    ]),
    measured: Type.Number(),
    limit: Type.Number(),
  },
  closed,
);
export type FaultBody = Type.Static<typeof FaultSchema>;

export const ProbeSchema = Type.Object(
  {
    probe: Type.String(),
    place: nullable(Type.String()),
    xM: NullableNumber,
    yM: NullableNumber,
    /** Stated accuracy, +- bound: K for temperatures, %RH for humidity. */
    accuracy: Type.Number(),
    /** Laid here, lifted from here, or taken out of use, as the journal says. */
    movedAt: NullableTime,
    retiredAt: NullableTime,
  },
  closed,
);

export const PourSchema = Type.Object(
  {
    entry: Type.String(),
    from: IsoTime,
    to: IsoTime,
    loggedAt: IsoTime,
    by: nullable(Type.String()),
    product: nullable(Type.String()),
    batches: Type.Array(BatchSchema),
    people: Type.Array(Type.String()),
    broadcast: nullable(Type.Enum(["full", "partial"])),
  },
  closed,
);

/** The sheet in force when the pour began: limits, version, and who typed it where that is known. */
export const SheetInForceSchema = Type.Object(
  {
    sheet: SheetSchema,
    version: Type.Integer({ minimum: 1 }),
    since: IsoTime,
    /** A version of the sheet entered after the pour began; the calls since then were made from it. */
    changedAt: Type.Array(IsoTime),
    photos: Type.Array(Type.String()),
  },
  closed,
);

const EarnedSchema = Type.Object({ share: Type.Number(), reachedAt: NullableTime, estimated: Type.Boolean() }, closed);
/** What a film went through from its pour until the next coat began, or until the record was made. */
export const PassageSchema = Type.Object(
  {
    coat: Type.Integer(),
    sheet: Id,
    pouredFrom: IsoTime,
    pouredTo: IsoTime,
    until: IsoTime,
    untilNextCoat: Type.Boolean(),
    /** From the last square metre to `until`, hours. */
    elapsedH: Type.Number(),
    recoat: EarnedSchema,
    dewSafe: EarnedSchema,
    foot: EarnedSchema,
    traffic: EarnedSchema,
    /** The maximum lifted: an open sheet, or a full broadcast with waiver. */
    noMaximum: Type.Boolean(),
    closedAt: NullableTime,
    hottestHourC: NullableNumber,
    marginLimitK: Type.Number(),
    /** Lowest margin while the film was dew-sensitive. */
    lowestMarginK: NullableNumber,
    lowestMarginAt: NullableTime,
    /** Minutes in all below the margin limit, and at or below the dew point, while dew-sensitive. */
    belowLimitMin: Type.Number(),
    inDewMin: Type.Number(),
    longestGapMin: Type.Number(),
  },
  closed,
);
export type PassageBody = Type.Static<typeof PassageSchema>;

/** A call as it was shown. `reasons`: the rules that stopped, cautioned or did not know. */
export const ShownCallSchema = Type.Object(
  {
    at: IsoTime,
    until: NullableTime,
    call: CallWordSchema,
    limiting: nullable(RuleIdSchema),
    steps: Type.Array(StepSchema),
    pouring: Type.Boolean(),
    reasons: Type.Array(RuleResultSchema),
    validUntil: NullableTime,
    ruleVersion: Type.String(),
    hash: nullable(Hash),
  },
  closed,
);
export type ShownCallBody = Type.Static<typeof ShownCallSchema>;

export const OverrideSchema = Type.Object(
  {
    entry: Type.String(),
    at: IsoTime,
    by: nullable(Type.String()),
    call: CallWordSchema,
    why: Type.String(),
    /** The call that stood then; null where none was shown. */
    stood: nullable(Type.Object({ call: CallWordSchema, limiting: nullable(RuleIdSchema), at: IsoTime }, closed)),
  },
  closed,
);

export const HandReadingSchema = Type.Object(
  {
    entry: Type.String(),
    at: IsoTime,
    by: nullable(Type.String()),
    instrument: nullable(Type.String()),
    calibratedOn: nullable(Day),
    slabC: NullableNumber,
    airC: NullableNumber,
    rhPct: NullableNumber,
    resinC: NullableNumber,
    dewPointC: NullableNumber,
    marginK: NullableNumber,
  },
  closed,
);

/** Met, not met, or unknown where the evidence does not say. */
export const OutcomeSchema = Type.Enum(["met", "not-met", "unknown"]);

/** A limit of the sheet against what was there while the coat was poured, and until it was dew-safe. */
export const LimitHeldSchema = Type.Object(
  {
    limit: Type.Enum([
      "slab-cold",
      "slab-hot",
      "air-cold",
      "air-hot",
      "air-dry",
      "air-damp",
      "vapour-low",
      "dew-margin",
      "resin-cold",
      "resin-hot",
      "slab-rh",
      "slab-mver",
      "recoat-minimum",
      "recoat-maximum",
    ]),
    span: Type.Enum(["pour", "dew-sensitive", "before"]),
    limitValue: NullableNumber,
    worst: NullableNumber,
    worstAt: NullableTime,
    unit: Type.String(),
    outcome: OutcomeSchema,
    /** Minutes beyond the limit. */
    beyondMin: NullableNumber,
  },
  closed,
);
export type LimitHeldBody = Type.Static<typeof LimitHeldSchema>;

/** A rule that published documents ask of the field work. `source` null: common practice, no source. */
export const FieldRuleSchema = Type.Object(
  {
    rule: Type.Enum([
      "conditions-logged",
      "conditions-before",
      "probes-enough",
      "hand-readings",
      "hourly-between-coats",
      "hold-48h-before",
      "moisture-tests",
      "moisture-spots",
      "profile-recorded",
      "adhesion-recorded",
      "batches-recorded",
      "cleaned-before",
      "photographed",
    ]),
    source: nullable(Type.String()),
    outcome: OutcomeSchema,
    /** The numbers the outcome rests on, by name with unit. */
    facts: Type.Record(Type.String(), Type.Union([Type.Number(), Type.String(), Type.Null()])),
  },
  closed,
);
export type FieldRuleBody = Type.Static<typeof FieldRuleSchema>;

/** An entry of the journal as it stands in the chain. `undoneBy`: the later entry that takes it back or replaces it. */
export const ChainedEntrySchema = Type.Object(
  {
    entry: JournalEntrySchema,
    undoneBy: nullable(Type.String()),
    hash: nullable(Hash),
  },
  closed,
);
export type ChainedEntryBody = Type.Static<typeof ChainedEntrySchema>;

/** The head of a closed day, or of the running day as it stood when the record was made. */
export const DayHeadSchema = Type.Object(
  {
    day: Day,
    head: Hash,
    prev: Hash,
    journal: Hash,
    calls: Hash,
    readings: Hash,
    entries: Type.Integer(),
    callCount: Type.Integer(),
    readingCount: Type.Integer(),
    closed: Type.Boolean(),
  },
  closed,
);
export type DayHeadBody = Type.Static<typeof DayHeadSchema>;

export const HeatStretchSchema = Type.Object(
  {
    entry: Type.String(),
    from: IsoTime,
    to: NullableTime,
    vented: nullable(Type.Boolean()),
    kW: NullableNumber,
    fuel: nullable(Type.String()),
    targetC: NullableNumber,
    by: nullable(Type.String()),
  },
  closed,
);
export const VentilationSchema = Type.Object(
  { entry: Type.String(), from: IsoTime, to: NullableTime, how: nullable(Text), by: nullable(Type.String()) },
  closed,
);
