// A sheet on the wire. Nonsense values pass here: the judge refuses to pour on them and says why.
import Type from "typebox";
import type { Sheet } from "#core/cure/sheet.ts";
import { MaterialSchema } from "#contract/material.ts";
import { Id, Name, NullableNumber } from "#contract/primitives.ts";

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
    material: Type.Optional(MaterialSchema),
  },
  closed,
);

export type SheetBody = Type.Static<typeof SheetSchema>;

/** The wire form is the core's form; the compiler holds the two together. */
export function sheetFromBody(body: SheetBody): Sheet {
  return body;
}
