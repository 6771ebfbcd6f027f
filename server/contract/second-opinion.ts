// What second opinions on the sensors of a zone say: hand readings, salt checks, and neighbours compared.
import Type from "typebox";
import { SALTS } from "#core/air/salt-points.ts";
import { Id, IsoTime, NullableNumber } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);
const SaltSchema = Type.Enum([...SALTS]);

/** A probe against a hand reading: °C and K, or % RH where `of` is `rh`. `offset`: probe minus hand. */
export const OpinionSchema = Type.Object(
  {
    entry: Type.String(),
    at: IsoTime,
    by: nullable(Type.String()),
    instrument: nullable(Type.String()),
    calibratedOn: nullable(Type.String()),
    probe: Type.String(),
    of: Type.Enum(["slab", "air", "rh", "dew"]),
    probeSaid: Type.Number(),
    handSaid: Type.Number(),
    offset: Type.Number(),
    /** What both may be off by together, +-; and the meter alone. */
    bound: Type.Number(),
    handBound: Type.Number(),
    within: Type.Boolean(),
    hopeful: Type.Boolean(),
  },
  closed,
);
export type OpinionBody = Type.Static<typeof OpinionSchema>;

/** `errorPct`: read minus point. `dewK`: what that makes of the dew point in the zone's present air; null when that is not known. */
export const SaltCheckSchema = Type.Object(
  {
    entry: Type.String(),
    at: IsoTime,
    by: nullable(Type.String()),
    probe: Type.String(),
    salt: SaltSchema,
    soakH: Type.Number(),
    airC: Type.Number(),
    readPct: Type.Number(),
    pointPct: Type.Number(),
    errorPct: Type.Number(),
    dewK: NullableNumber,
    valid: Type.Boolean(),
  },
  closed,
);
export type SaltCheckBody = Type.Static<typeof SaltCheckSchema>;

/** Two probes: `a` minus `b` now and as the median of the last day; K, or % RH where `of` is `rh`. */
export const PairSchema = Type.Object(
  {
    of: Type.Enum(["slab", "air", "rh"]),
    a: Type.String(),
    b: Type.String(),
    apartM: NullableNumber,
    now: NullableNumber,
    dayMedian: NullableNumber,
  },
  closed,
);
export type PairBody = Type.Static<typeof PairSchema>;

export const ZoneOpinionsSchema = Type.Object(
  {
    zone: Id,
    /** Newest first. */
    opinions: Type.Array(OpinionSchema),
    saltChecks: Type.Array(SaltCheckSchema),
    /** Chips that lie in a bag now, or have just come out. */
    bagged: Type.Array(Type.Object({ probe: Type.String(), salt: SaltSchema, since: IsoTime }, closed)),
    pairs: Type.Array(PairSchema),
  },
  closed,
);
export type ZoneOpinionsBody = Type.Static<typeof ZoneOpinionsSchema>;
