// A sheet on the wire. Nonsense values pass here: the judge refuses to pour on them and says why.
import Type from "typebox";
import type { Sheet } from "#core/cure/sheet.ts";
import { MaterialSchema } from "#contract/material.ts";
import { Id, IsoTime, Name, NullableNumber, Text } from "#contract/primitives.ts";
import { TYPED_UNITS } from "#core/cure/sheet-units.ts";

const Range = Type.Tuple([NullableNumber, NullableNumber]);
const closed = { additionalProperties: false } as const;

export const CureRowSchema = Type.Object(
  {
    slabC: Type.Number(),
    recoatFromH: NullableNumber,
    recoatUntilH: NullableNumber,
    dewSafeH: NullableNumber,
    footH: NullableNumber,
    trafficH: NullableNumber,
  },
  closed,
);

export const StepSchema = Type.Union([Type.Literal("wash"), Type.Literal("abrade"), Type.Literal("clean")]);

export const HardRowSchema = Type.Object({ slabC: Type.Number(), hardH: Type.Number() }, closed);

/** A figure as it stands on the paper, by the path of its field (`limits.dewMarginK`, `cure.0.recoatFromH`). */
export const PaperSchema = Type.Record(
  Type.String({ pattern: "^[A-Za-z0-9.]{1,60}$" }),
  Type.Object(
    { value: Type.String({ pattern: "^[+-]?[0-9]{1,7}([.,][0-9]{1,6})?$" }), unit: Type.Enum([...TYPED_UNITS]) },
    closed,
  ),
);

/** Who held it against the page. `same`: the one who typed it. */
export const ConfirmationSchema = Type.Object(
  { by: Type.Union([Name, Type.Null()]), at: IsoTime, same: Type.Boolean() },
  closed,
);

/**
 * Which saving of the numbers this is. Sent with a change it says which one was looked at; the server sets the rest.
 * `corrects`: the one before was a slip of typing, so coats that are down take this one too.
 */
export const SavedSchema = Type.Object(
  {
    revision: Type.Integer({ minimum: 0 }),
    at: Type.Optional(IsoTime),
    by: Type.Optional(Type.Union([Name, Type.Null()])),
    corrects: Type.Optional(Type.Boolean()),
    note: Type.Optional(Text),
  },
  closed,
);

export const SheetSchema = Type.Object(
  {
    id: Id,
    name: Name,
    limits: Type.Object(
      {
        slabC: Range,
        airC: Range,
        rhPct: Range,
        waterGPerKg: Range,
        dewMarginK: Type.Number(),
        resinC: Range,
        slabRhMaxPct: NullableNumber,
        slabMverMaxLb: NullableNumber,
      },
      closed,
    ),
    cure: Type.Array(CureRowSchema, { maxItems: 50 }),
    window: Type.Union([Type.Literal("closes"), Type.Literal("open")]),
    broadcastWaiver: Type.Boolean(),
    seals: Type.Boolean(),
    afterBlush: Type.Array(StepSchema, { maxItems: 6 }),
    kind: Type.Optional(Type.Union([Type.Literal("coat"), Type.Literal("filler")])),
    /** Of a crack filler: hours until it is hard. */
    hard: Type.Optional(Type.Array(HardRowSchema, { maxItems: 50 })),
    material: Type.Optional(MaterialSchema),
    paper: Type.Optional(PaperSchema),
    /** Pictures of the page, by their SHA-256. */
    photos: Type.Optional(Type.Array(Type.String({ pattern: "^[0-9a-f]{64}$" }), { maxItems: 10 })),
    /** null = nobody has yet: no zone pours by it. Absent = from a program that asks for no second look. */
    confirmed: Type.Optional(Type.Union([ConfirmationSchema, Type.Null()])),
    saved: Type.Optional(SavedSchema),
  },
  closed,
);

export type SheetBody = Type.Static<typeof SheetSchema>;

/** The wire form is the core's form; the compiler holds the two together. */
export function sheetFromBody(body: SheetBody): Sheet {
  return body;
}
