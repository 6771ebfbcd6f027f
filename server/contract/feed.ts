// A weather feed on the wire: the recipe by which it is read, and how it is doing.
import Type from "typebox";
import { type Checked, type Fault, readerOf } from "#contract/faults.ts";
import { Pointer } from "#contract/json-pointer.ts";
import { IsoTime, NullableNumber, NullableTime } from "#contract/primitives.ts";
import { isTimezone } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;
const SecretName = Type.String({
  pattern: "^[A-Z][A-Z0-9_]{0,63}$",
  description: "name of a secret; its value stands on the server only, and is never stored or shown",
});
const Temperature = Type.Object({ at: Pointer, unit: Type.Enum(["C", "F", "K"]) }, closed);

export const FeedRecipeSchema = Type.Object(
  {
    source: Type.Object(
      {
        url: Type.Optional(
          Type.String({
            maxLength: 2000,
            pattern: "^https?://[^\\s]+$",
            description: "address; {NAME} in it is replaced by the secret of that name",
          }),
        ),
        file: Type.Optional(
          Type.String({ minLength: 1, maxLength: 500, description: "path inside the folder of the setting feedDir" }),
        ),
      },
      { ...closed, description: "either an address or a file" },
    ),
    headers: Type.Optional(
      Type.Array(
        Type.Object(
          {
            name: Type.String({ pattern: "^[A-Za-z0-9-]{1,64}$", description: "of an HTTP header" }),
            secret: SecretName,
          },
          closed,
        ),
        { maxItems: 8 },
      ),
    ),
    everyMin: Type.Optional(
      Type.Integer({ minimum: 15, maximum: 360, default: 60, description: "minutes between two fetches" }),
    ),
    items: Type.Optional(
      Type.Unsafe<string>({
        ...Pointer,
        description: "where a list of objects stands; the other pointers then begin in each of them",
      }),
    ),
    time: Type.Object(
      {
        at: Pointer,
        as: Type.Enum(["iso", "local", "epoch-s", "epoch-ms"], {
          description: "iso = ISO 8601 with offset; local = without, in `zone`",
        }),
        zone: Type.Optional(Type.String({ minLength: 1, maxLength: 64, description: "IANA zone or UTC" })),
      },
      closed,
    ),
    air: Temperature,
    dewPoint: Type.Optional(Temperature),
    humidity: Type.Optional(
      Type.Object(
        { at: Pointer, unit: Type.Enum(["percent", "share"], { description: "0 to 100 or 0 to 1" }) },
        closed,
      ),
    ),
    missing: Type.Optional(Type.Number({ description: "the number that stands for a missing value" })),
  },
  closed,
);
export type FeedRecipe = Type.Static<typeof FeedRecipeSchema>;

export const DEFAULT_EVERY_MIN = 60;
/** Headers that would break the request or its meaning. */
const NOT_A_HEADER =
  /^(host|connection|content-length|transfer-encoding|upgrade|expect|te|trailer|if-none-match|if-modified-since)$/i;

const AUTHORITY = /^([A-Za-z0-9_.-]+|\[[0-9A-Fa-f:.]+\])(:[0-9]{1,5})?$/;

/** What a shape cannot say: how the parts of a recipe fit together. */
function togetherFaults({ source, headers = [], time, dewPoint, humidity }: FeedRecipe): Fault[] {
  const faults: Fault[] = [];
  const fault = (field: string, reason: string) => faults.push({ field, reason });
  if ((source.url === undefined) === (source.file === undefined)) fault("/source", "must be either an url or a file");
  if (source.url !== undefined) {
    const authority = source.url.slice(source.url.indexOf("//") + 2).split(/[/?#]/)[0] ?? "";
    if (authority.includes("@")) fault("/source/url", "must carry no user name or password: name a secret in a header");
    else if (!AUTHORITY.test(authority)) fault("/source/url", "has no host that can be asked");
  } else if (headers.length > 0) fault("/headers", "are for an url");
  for (const [index, { name }] of headers.entries())
    if (NOT_A_HEADER.test(name)) fault(`/headers/${index}/name`, "cannot be set");
  if (time.as === "local" && time.zone === undefined) fault("/time/zone", "is missing: local times need one");
  if (time.as !== "local" && time.zone !== undefined) fault("/time/zone", "is for local times only");
  if (time.zone !== undefined && !isTimezone(time.zone)) fault("/time/zone", "is not an IANA time zone");
  if ((dewPoint === undefined) === (humidity === undefined))
    fault("/dewPoint", "must be given, or humidity in its place; not both");
  return faults;
}

const readShape = readerOf(FeedRecipeSchema);

export function readFeedRecipe(value: unknown): Checked<FeedRecipe> {
  const shape = readShape(value);
  if (!shape.ok) return shape;
  const faults = togetherFaults(shape.value);
  return faults.length > 0 ? { ok: false, faults } : shape;
}

const FaultSchema = Type.Object({ field: Type.String(), reason: Type.String() }, closed);
export const FeedDoubtSchema = Type.Object(
  {
    fault: Type.Enum(["stale", "ends", "jumps", "unit", "time-zone", "disagrees"]),
    against: Type.Enum(["node", "earlier", "itself"]),
    measured: Type.Number(),
    limit: Type.Number(),
    unit: Type.Enum(["h", "K", "°C"]),
    reason: Type.String({ description: "a sentence for people" }),
  },
  closed,
);
export type FeedDoubtBody = Type.Static<typeof FeedDoubtSchema>;

export const FeedStateSchema = Type.Object(
  {
    recipe: Type.Union([FeedRecipeSchema, Type.Null()]),
    lastGoodAt: NullableTime,
    /** The last attempts that failed, without a good one since. */
    failures: Type.Integer({ minimum: 0 }),
    lastError: Type.Union([Type.Object({ at: IsoTime, faults: Type.Array(FaultSchema) }, closed), Type.Null()]),
    nextAt: NullableTime,
    hours: Type.Integer({ minimum: 0, description: "hours that the last fetch gave" }),
    ageS: NullableNumber,
    endsAt: NullableTime,
    used: Type.Boolean({ description: "false when there is no feed or a doubt: it then says nothing of the night" }),
    doubt: Type.Union([FeedDoubtSchema, Type.Null()]),
    spreadScale: NullableNumber,
    airOffsetK: NullableNumber,
    dewOffsetK: NullableNumber,
  },
  closed,
);
export type FeedStateBody = Type.Static<typeof FeedStateSchema>;

export const FeedTrySchema = Type.Object(
  {
    recipe: FeedRecipeSchema,
    body: Type.Optional(
      Type.Unknown({ description: "what the feed says, as JSON or as text; left out = it is fetched now" }),
    ),
  },
  closed,
);
export type FeedTryBody = Type.Static<typeof FeedTrySchema>;

export const FeedTriedSchema = Type.Object(
  {
    hours: Type.Array(Type.Object({ at: IsoTime, airC: Type.Number(), dewPointC: Type.Number() }, closed)),
    skipped: Type.Integer({ minimum: 0, description: "hours without a value, or that no clock ever showed" }),
    faults: Type.Array(FaultSchema),
    doubt: Type.Union([FeedDoubtSchema, Type.Null()]),
  },
  closed,
);
export type FeedTriedBody = Type.Static<typeof FeedTriedSchema>;
