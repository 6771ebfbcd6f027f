// The plan of a site: outlines of zones, and the drawing or photo that they are drawn over.
import Type from "typebox";
import { outlineFault, type OutlineFault } from "#core/plan/polygon.ts";
import type { Fault } from "#contract/faults.ts";

const closed = { additionalProperties: false } as const;
/** As far as a building goes, m: both ways from the corner in which the plan begins. */
const Place = Type.Number({ minimum: -20_000, maximum: 20_000, description: "m" });

/** m from the upper left corner of the plan: x to the right, y downwards. */
export const PointSchema = Type.Object({ xM: Place, yM: Place }, closed);
export const OutlineSchema = Type.Array(PointSchema, {
  minItems: 3,
  maxItems: 200,
  description: "corners in their order; the last is joined to the first",
});

/** `photo`: a picture of this site. `xM`, `yM`: where its upper left corner lies. */
export const PlanPictureSchema = Type.Object(
  {
    photo: Type.String({ pattern: "^[0-9a-f]{64}$", description: "id of a picture of this site" }),
    xM: Place,
    yM: Place,
    mPerPx: Type.Number({ exclusiveMinimum: 0, maximum: 100, description: "m of the floor in a point of the picture" }),
    widthPx: Type.Integer({ minimum: 1, maximum: 20_000 }),
    heightPx: Type.Integer({ minimum: 1, maximum: 20_000 }),
  },
  closed,
);
export type PlanPictureBody = Type.Static<typeof PlanPictureSchema>;

const Side = Type.Number({ minimum: 1, maximum: 5000, description: "m" });
/** What outlines are drawn on: how large the sheet of paper is, and the picture under it. */
export const PlanSchema = Type.Object(
  { widthM: Side, heightM: Side, picture: Type.Union([PlanPictureSchema, Type.Null()]) },
  closed,
);
export type PlanBody = Type.Static<typeof PlanSchema>;

const REASONS: Readonly<Record<OutlineFault, string>> = {
  "few-corners": "has fewer than three corners",
  "same-corner": "has one corner twice in a row",
  "crosses-itself": "crosses or touches itself",
  "no-area": "encloses no floor",
};

export function outlineFaults(outline: Type.Static<typeof OutlineSchema> | undefined, field: string): Fault[] {
  const fault = outline === undefined ? null : outlineFault(outline);
  return fault === null ? [] : [{ field, reason: REASONS[fault] }];
}
