// What a browser reads: the board of a site, one zone, and series for charts.
import Type from "typebox";
import { CallSchema, CallWordSchema, RuleIdSchema } from "#contract/call.ts";
import { JournalEntrySchema } from "#contract/journal.ts";
import { OutlookSchema } from "#contract/outlook.ts";
import { Id, IsoTime, NullableNumber, NullableTime } from "#contract/primitives.ts";
import { SheetSchema } from "#contract/sheet.ts";
import { NodeSchema, SiteSchema, ZoneSchema } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;

/**
 * A stretch of past time with the call that was shown in it. `hindsight`: nothing was shown then (the server was not
 * running or had not yet heard); the call is what today's log says of that time.
 */
export const PastCallSchema = Type.Object(
  {
    from: IsoTime,
    to: NullableTime,
    call: CallWordSchema,
    limiting: Type.Union([RuleIdSchema, Type.Null()]),
    hindsight: Type.Boolean(),
  },
  closed,
);
/** A call that was shown and would have been another, had all been heard by then: it stays as it was, and this beside it. */
export const RevisedCallSchema = Type.Object(
  {
    from: IsoTime,
    to: IsoTime,
    call: CallWordSchema,
    limiting: Type.Union([RuleIdSchema, Type.Null()]),
    wouldBe: CallWordSchema,
    wouldBeLimiting: Type.Union([RuleIdSchema, Type.Null()]),
  },
  closed,
);
/** Past margin on equal steps; null where nothing was heard: gaps stay gaps. */
export const PastMarginSchema = Type.Object(
  { from: IsoTime, stepS: Type.Number(), marginK: Type.Array(NullableNumber) },
  closed,
);

/** The call of a zone as a board carries it. */
export const BoardCallSchema = Type.Object(
  {
    ...CallSchema.properties,
    metLeftOut: Type.Optional(
      Type.Integer({
        minimum: 0,
        description:
          "so many rules that are met are left out: the board has more than 200 zones. The zone itself and the events of the stream carry all",
      }),
    ),
  },
  closed,
);

export const BoardZoneSchema = Type.Object(
  {
    zone: ZoneSchema,
    call: BoardCallSchema,
    past: Type.Array(PastCallSchema),
    revised: Type.Optional(Type.Array(RevisedCallSchema)),
    pastMargin: PastMarginSchema,
    outlook: Type.Union([OutlookSchema, Type.Null()]),
    /** Margin limit of the sheet that governs the strip now (film while sensitive, else next coat), K. */
    marginLimitK: NullableNumber,
    lastHeard: NullableTime,
    splitFrom: Type.Optional(
      Type.Object(
        { zone: Id, name: Type.String(), entry: Type.String() },
        { ...closed, description: "the zone that this one is a part of, and the entry that split it" },
      ),
    ),
  },
  closed,
);

export const NodeStateSchema = Type.Object(
  {
    node: NodeSchema,
    presence: Type.Enum(["online", "offline", "unknown"]),
    lastHeard: NullableTime,
    batteryPct: NullableNumber,
    rssiDbm: NullableNumber,
    quarantined: Type.Integer(),
    lastReason: Type.Union([Type.String(), Type.Null()]),
    retired: Type.Optional(Type.Boolean({ description: "taken out of use: its past stays" })),
  },
  closed,
);

export const BoardSchema = Type.Object(
  {
    site: SiteSchema,
    at: IsoTime,
    /** Speed of the site's clock against the wall clock; 1 but in a time-lapse. */
    pace: Type.Number(),
    zones: Type.Array(BoardZoneSchema),
    nodes: Type.Array(NodeStateSchema),
    outdoorC: NullableNumber,
    upTo: Type.Optional(
      Type.String({
        description:
          "id of the last change that is in it: a stream that is asked to go on after it (Last-Event-ID) sends what followed",
      }),
    ),
  },
  closed,
);
export type BoardBody = Type.Static<typeof BoardSchema>;
export type BoardZoneBody = Type.Static<typeof BoardZoneSchema>;
export type NodeStateBody = Type.Static<typeof NodeStateSchema>;
export type RevisedCallBody = Type.Static<typeof RevisedCallSchema>;
export type PastCallBody = Type.Static<typeof PastCallSchema>;

export const ZonePageSchema = Type.Object(
  { ...BoardZoneSchema.properties, sheets: Type.Array(SheetSchema), journal: Type.Array(JournalEntrySchema) },
  closed,
);
export type ZonePageBody = Type.Static<typeof ZonePageSchema>;

const Bucket = Type.Object({ min: NullableNumber, mean: NullableNumber, max: NullableNumber }, closed);
/** `series` is keyed by `node/quantity`; one bucket a step, nulls where nothing was heard. */
export const SeriesSchema = Type.Object(
  {
    from: IsoTime,
    to: IsoTime,
    stepS: Type.Number(),
    series: Type.Record(Type.String(), Type.Array(Bucket)),
    /** Derived for the zone on the same steps: coldest slab, dew point, margin, air, humidity. */
    conditions: Type.Object(
      {
        slabColdC: Type.Array(NullableNumber),
        slabHotC: Type.Array(NullableNumber),
        airC: Type.Array(NullableNumber),
        rhPct: Type.Array(NullableNumber),
        dewPointC: Type.Array(NullableNumber),
        marginK: Type.Array(NullableNumber),
      },
      closed,
    ),
    /** Readings from before this time stand in another program, which did not answer: gaps there are no silence. */
    outOfReach: Type.Optional(Type.Object({ before: IsoTime, why: Type.String() }, closed)),
  },
  closed,
);
export type SeriesBody = Type.Static<typeof SeriesSchema>;

export const SpotCheckSchema = Type.Object(
  {
    slabC: Type.Number({ minimum: -40, maximum: 80 }),
    airC: Type.Number({ minimum: -40, maximum: 60 }),
    rhPct: Type.Number({ exclusiveMinimum: 0, maximum: 100 }),
    sheet: Id,
    base: Type.Optional(Type.Enum(["porous", "sealed"])),
  },
  closed,
);
export type SpotCheckBody = Type.Static<typeof SpotCheckSchema>;
