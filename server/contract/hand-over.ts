// The hand-over: what the client may do with the floor, and not before when, from the film that is really there.
import Type from "typebox";
import { Id, IsoTime, NullableNumber, NullableTime } from "#contract/primitives.ts";
import { SiteSchema, ZoneSchema } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;

/** One use of the floor. A date is given only for hours that the sheet prints; else `ask-the-sheet`. */
export const UseSchema = Type.Object(
  {
    use: Type.Enum(["walk-on", "traffic", "light-traffic", "heavy-traffic", "water", "washing"]),
    /** `reached`: earned by the film, at `reachedAt`; `ahead`: not before `notBefore`; `unknown`: nothing foresees it. */
    state: Type.Enum(["reached", "ahead", "unknown", "ask-the-sheet"]),
    reachedAt: NullableTime,
    /** The slow side of the night ahead: nine in ten courses have earned it by then. Never a promise. */
    notBefore: NullableTime,
    earned: NullableNumber,
    /** Some of the hours are an estimate, not printed on the sheet. */
    estimated: Type.Boolean(),
  },
  closed,
);

export const HandOverSchema = Type.Object(
  {
    site: SiteSchema,
    zone: ZoneSchema,
    timezone: Type.String(),
    madeAt: IsoTime,
    /** The film on the floor; null while it is bare. */
    film: Type.Union([
      Type.Object(
        {
          coat: Type.Integer(),
          sheet: Id,
          name: Type.String(),
          pouredFrom: IsoTime,
          pouredTo: IsoTime,
          last: Type.Boolean(),
        },
        closed,
      ),
      Type.Null(),
    ]),
    uses: Type.Array(UseSchema),
    /** Keep the floor at or above this until the film has earned what is ahead; null where the sheet has no minimum. */
    keepWarm: Type.Union([Type.Object({ slabMinC: Type.Number(), until: NullableTime }, closed), Type.Null()]),
    /** Keep doors and windows shut, water and dew off, until then; null once the film is past dew. */
    keepShut: Type.Union([Type.Object({ marginMinK: Type.Number(), until: NullableTime }, closed), Type.Null()]),
    notice: Type.Array(Type.String()),
  },
  closed,
);
export type HandOverBody = Type.Static<typeof HandOverSchema>;
export type UseBody = Type.Static<typeof UseSchema>;
