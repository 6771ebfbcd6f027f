// The record of a coat, the summary of a day and the list of records, on the wire. All times are UTC; `timezone` is the site's.
import Type from "typebox";
import { CallWordSchema, RuleIdSchema } from "#contract/call.ts";
import { HandOverSchema } from "#contract/hand-over.ts";
import { JournalEntrySchema } from "#contract/journal.ts";
import { Id, IsoTime, Name, NullableNumber, NullableTime } from "#contract/primitives.ts";
import {
  ChainedEntrySchema,
  ConditionColumnsSchema,
  Day,
  DayHeadSchema,
  FaultSchema,
  FieldRuleSchema,
  GapSchema,
  HandReadingSchema,
  HeatStretchSchema,
  LimitHeldSchema,
  nullable,
  OverrideSchema,
  PassageSchema,
  PourSchema,
  ProbeSchema,
  SheetInForceSchema,
  ShownCallSchema,
  VentilationSchema,
} from "#contract/record-parts.ts";
import { SiteSchema, ZoneSchema } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;

/** Every entry of one kind that speaks for the coat is listed whole: nothing is picked out of it. */
const Entries = Type.Array(JournalEntrySchema);

export const CoatRecordSchema = Type.Object(
  {
    record: Type.Literal(1),
    site: SiteSchema,
    zone: ZoneSchema,
    timezone: Type.String(),
    coat: Type.Integer(),
    madeAt: IsoTime,
    /** The time it speaks of: two days before the pour, or from the coat before, until dew-safe and the next coat. */
    from: IsoTime,
    to: IsoTime,
    /** False while the film can still change: not dew-safe, or a coat is to come. */
    complete: Type.Boolean(),
    pour: PourSchema,
    sheet: SheetInForceSchema,
    probes: Type.Array(ProbeSchema),
    conditions: ConditionColumnsSchema,
    limits: Type.Array(LimitHeldSchema),
    /** The film beneath, until this pour began; null on the bare slab. */
    before: nullable(PassageSchema),
    /** This film, until the next coat or until the record was made. */
    after: nullable(PassageSchema),
    calls: Type.Array(ShownCallSchema),
    overrides: Type.Array(OverrideSchema),
    handReadings: Type.Array(HandReadingSchema),
    gaps: Type.Array(GapSchema),
    faults: Type.Array(FaultSchema),
    surfaceWork: Entries,
    moisture: Entries,
    profile: Entries,
    adhesion: Entries,
    photos: Entries,
    heat: Type.Array(HeatStretchSchema),
    ventilation: Type.Array(VentilationSchema),
    fieldRules: Type.Array(FieldRuleSchema),
    handOver: nullable(HandOverSchema),
    journal: Type.Array(ChainedEntrySchema),
    heads: Type.Array(DayHeadSchema),
    ruleVersions: Type.Array(Type.String()),
    notice: Type.Array(Type.String()),
  },
  closed,
);
export type CoatRecordBody = Type.Static<typeof CoatRecordSchema>;

export const DaySummarySchema = Type.Object(
  {
    site: SiteSchema,
    timezone: Type.String(),
    /** The day by the site's own clock, and what it is in UTC: 23, 24 or 25 hours. */
    day: Day,
    from: IsoTime,
    to: IsoTime,
    madeAt: IsoTime,
    zones: Type.Array(
      Type.Object(
        {
          zone: Id,
          name: Name,
          poured: Type.Array(
            Type.Object({ coat: Type.Integer(), sheet: nullable(Id), from: IsoTime, to: IsoTime }, closed),
          ),
          /** Calls that stood in this day, the first since before it began. */
          calls: Type.Array(
            Type.Object(
              { from: IsoTime, to: NullableTime, call: CallWordSchema, limiting: nullable(RuleIdSchema) },
              closed,
            ),
          ),
          slabColdC: NullableNumber,
          slabHotC: NullableNumber,
          airColdC: NullableNumber,
          airHotC: NullableNumber,
          rhMaxPct: NullableNumber,
          lowestMarginK: NullableNumber,
          lowestMarginAt: NullableTime,
          overrides: Type.Array(OverrideSchema),
          gaps: Type.Array(GapSchema),
          faults: Type.Array(FaultSchema),
        },
        closed,
      ),
    ),
    entries: Entries,
    heads: Type.Array(DayHeadSchema),
    notice: Type.Array(Type.String()),
  },
  closed,
);
export type DaySummaryBody = Type.Static<typeof DaySummarySchema>;

export const ZoneCoatsSchema = Type.Object(
  {
    zone: Id,
    name: Name,
    coats: Type.Array(
      Type.Object(
        {
          coat: Type.Integer(),
          sheet: nullable(Id),
          name: nullable(Type.String()),
          state: Type.Enum(["to-come", "pouring", "curing", "down"]),
          from: NullableTime,
          to: NullableTime,
          /** A record can be had: the coat has been poured. */
          record: Type.Boolean(),
          overrides: Type.Integer(),
          photos: Type.Integer(),
        },
        closed,
      ),
    ),
  },
  closed,
);
export type ZoneCoatsBody = Type.Static<typeof ZoneCoatsSchema>;

/** All zones that stand now; parts of a split carry what was poured before it. */
export const RecordIndexSchema = Type.Object(
  {
    site: SiteSchema,
    timezone: Type.String(),
    madeAt: IsoTime,
    zones: Type.Array(ZoneCoatsSchema),
    /** Days of the site's clock of which a summary can be had, first to last. */
    days: Type.Array(Day),
    heads: Type.Array(DayHeadSchema),
  },
  closed,
);
export type RecordIndexBody = Type.Static<typeof RecordIndexSchema>;
