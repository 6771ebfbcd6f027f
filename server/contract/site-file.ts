// Site files: what was set up of a site, in one JSON object. No people, no readings, no journal, no secrets.
import Type from "typebox";
import { type Checked, type Fault, fail, readerOf } from "#contract/faults.ts";
import { FeedRecipeSchema, readFeedRecipe } from "#contract/feed.ts";
import { outlineFaults, PlanSchema } from "#contract/plan.ts";
import { Id, IsoTime } from "#contract/primitives.ts";
import { recipesFaults, RecipesSchema } from "#contract/recipe.ts";
import { SheetSchema } from "#contract/sheet.ts";
import { isTimezone, NodeSchema, SiteSchema, ZoneSchema } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;
/** The picture of a plan as it stands in a file: 8 MB in base64. */
const MOST_PICTURE_CHARACTERS = 12 * 1024 * 1024;

export const SiteFileSchema = Type.Object(
  {
    siteFile: Type.Literal(1),
    madeAt: IsoTime,
    site: SiteSchema,
    sheets: Type.Array(SheetSchema, { maxItems: 500 }),
    zones: Type.Array(ZoneSchema, { maxItems: 2000 }),
    nodes: Type.Array(NodeSchema, { maxItems: 5000 }),
    plan: Type.Union([PlanSchema, Type.Null()]),
    picture: Type.Union([
      Type.String({
        pattern: "^[A-Za-z0-9+/]+={0,2}$",
        maxLength: MOST_PICTURE_CHARACTERS,
        description: "the picture of the plan, JPEG, PNG or WebP in base64",
      }),
      Type.Null(),
    ]),
    recipes: RecipesSchema,
    feed: Type.Union([FeedRecipeSchema, Type.Null()], { description: "names its secrets and holds none" }),
  },
  closed,
);
export type SiteFileBody = Type.Static<typeof SiteFileSchema>;

/** `as`: id of the site that is made; left out = as in the file. */
export const SiteFileWishSchema = Type.Object(
  {
    as: Type.Optional(Id),
    sheets: Type.Optional(
      Type.Enum(["refuse", "keep"], {
        default: "refuse",
        description: "where a sheet of that id stands here and differs: refuse the file, or go on with the one here",
      }),
    ),
    recipes: Type.Optional(
      Type.Enum(["take", "leave"], { default: "take", description: "recipes of sensors and the weather feed" }),
    ),
  },
  closed,
);
export type SiteFileWish = Type.Static<typeof SiteFileWishSchema>;

export const SiteFileTakenSchema = Type.Object(
  { site: SiteSchema, zones: Type.Integer(), nodes: Type.Integer(), sheets: Type.Integer({ description: "new here" }) },
  closed,
);
export type SiteFileTaken = Type.Static<typeof SiteFileTakenSchema>;

const readShape = readerOf(SiteFileSchema);

function twiceFaults(file: SiteFileBody): Fault[] {
  return (["sheets", "zones", "nodes"] as const).flatMap((field) => {
    const seen = new Set<string>();
    return file[field].flatMap(({ id }, index) => {
      const twice = seen.has(id);
      seen.add(id);
      return twice ? [{ field: `/${field}/${index}/id`, reason: `"${id}" stands twice` }] : [];
    });
  });
}

/** What a shape cannot say: how the parts of a file fit together. */
function togetherFaults(file: SiteFileBody): Fault[] {
  const sheets = new Map(file.sheets.map((sheet) => [sheet.id, sheet]));
  const zones = new Set(file.zones.map(({ id }) => id));
  const feed = file.feed === null ? null : readFeedRecipe(file.feed);
  const under = (prefix: string, faults: readonly Fault[]) =>
    faults.map(({ field, reason }) => ({ field: prefix + field, reason }));
  return [
    ...(isTimezone(file.site.timezone) ? [] : [{ field: "/site/timezone", reason: "is not an IANA time zone" }]),
    ...twiceFaults(file),
    ...file.zones.flatMap(({ system, outline }, index) => [
      ...system.flatMap((id, coat) => {
        const field = `/zones/${index}/system/${coat}`;
        if (!sheets.has(id)) return [{ field, reason: `no sheet "${id}" in this file` }];
        return sheets.get(id)?.kind === "filler" ? [{ field, reason: `"${id}" is a crack filler, no coat` }] : [];
      }),
      ...outlineFaults(outline, `/zones/${index}/outline`),
    ]),
    ...file.nodes.flatMap(({ zone }, index) =>
      zone === null || zones.has(zone)
        ? []
        : [{ field: `/nodes/${index}/zone`, reason: `no zone "${zone}" in this file` }],
    ),
    ...((file.plan?.picture ?? null) === null
      ? file.picture === null
        ? []
        : [{ field: "/picture", reason: "has no place: the plan names no picture" }]
      : file.picture === null
        ? [{ field: "/picture", reason: "is missing: the plan names one" }]
        : []),
    ...under("/recipes", recipesFaults(file.recipes)),
    ...(feed === null || feed.ok ? [] : under("/feed", feed.faults)),
  ];
}

/** Reads a site file strictly; every fault names its field. */
export function readSiteFile(value: unknown): Checked<SiteFileBody> {
  if (typeof value !== "object" || value === null || (value as { siteFile?: unknown }).siteFile !== 1)
    return fail("/siteFile", "must be 1: this is not a site file");
  const shape = readShape(value);
  if (!shape.ok) return shape;
  const faults = togetherFaults(shape.value);
  return faults.length > 0 ? { ok: false, faults } : shape;
}
