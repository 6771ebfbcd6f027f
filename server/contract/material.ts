// The material section of a sheet on the wire. Every field may be missing; whether they agree is told by materialDoubts.
import Type from "typebox";
import type { Material } from "#core/takeoff/material.ts";
import { Name } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const above = (maximum: number) => Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum }));
const share = (maximum: number) => Type.Optional(Type.Number({ minimum: 0, maximum }));

export const MixPartSchema = Type.Object(
  {
    name: Name,
    share: Type.Number({ exclusiveMinimum: 0, maximum: 1000 }),
    kitL: above(2000),
    densityKgPerL: Type.Optional(Type.Number({ minimum: 0.5, maximum: 5 })),
  },
  closed,
);

export const PotLifeRowSchema = Type.Object(
  {
    resinC: Type.Number({ minimum: -30, maximum: 60 }),
    min: Type.Number({ exclusiveMinimum: 0, maximum: 2880 }),
    massKg: above(500),
    volumeL: above(500),
  },
  closed,
);

export const POT_CLASSES = ["mass-limited", "film-limited", "long-pot", "dose-set"] as const;
export const HAZARDS = ["amine", "isocyanate", "solvent", "peroxide"] as const;

export const MaterialSchema = Type.Object(
  {
    wetLPerM2: above(100),
    dryFilmUm: above(50_000),
    solidsPct: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 100 })),
    texturePct: share(300),
    porosityPct: share(300),
    wastePct: share(100),
    densityKgPerL: Type.Optional(Type.Number({ minimum: 0.5, maximum: 5 })),
    mix: Type.Optional(
      Type.Object(
        {
          by: Type.Union([Type.Literal("volume"), Type.Literal("mass")]),
          parts: Type.Array(MixPartSchema, { minItems: 1, maxItems: 6 }),
        },
        closed,
      ),
    ),
    kitL: above(2000),
    splitKits: Type.Optional(Type.Boolean()),
    mixMin: above(60),
    restMin: share(240),
    potClass: Type.Optional(Type.Enum([...POT_CLASSES])),
    potLife: Type.Optional(Type.Array(PotLifeRowSchema, { maxItems: 20 })),
    floorMin: above(2880),
    placeM2PerH: above(1e5),
    people: Type.Optional(Type.Integer({ minimum: 1, maximum: 100 })),
    hazards: Type.Optional(Type.Array(Type.Enum([...HAZARDS]), { maxItems: 4 })),
  },
  closed,
);
export type MaterialBody = Type.Static<typeof MaterialSchema>;

/** The wire form is the core's form; the compiler holds the two together. */
export function materialFromBody(body: MaterialBody): Material {
  return body;
}
