// Recipes: how payloads of sensors that already exist are read. What a recipe does not say is never guessed.
import Type from "typebox";
import { type Checked, type Fault, readerOf } from "#contract/faults.ts";
import { Pointer } from "#contract/json-pointer.ts";
import { Id, IsoTime, Name } from "#contract/primitives.ts";
import { type QuantityKind, quantityKind } from "#contract/reading.ts";
import { filterFault, filtersOverlap } from "#contract/topic-filter.ts";
import { TOPIC_ROOT } from "#contract/topics.ts";

const closed = { additionalProperties: false } as const;
const Scalar = Type.Union([Type.String({ maxLength: 200 }), Type.Number(), Type.Boolean()]);

/** What a unit of a recipe may stand for. */
export const RECIPE_UNITS = {
  slab: ["C", "F", "K"],
  air: ["C", "F", "K"],
  dew: ["C", "F", "K"],
  rh: ["percent", "share"],
  battery: ["percent", "share", "V", "mV"],
  rssi: ["dBm"],
  door: ["open", "shut"],
} as const satisfies Record<QuantityKind, readonly string[]>;

export const RecipeValueSchema = Type.Object(
  {
    quantity: Type.String({ pattern: "^[a-z]{1,20}(\\.[0-9]{1,3})?$", description: "slab, slab.2, air, rh, dew, ..." }),
    at: Pointer,
    unit: Type.Enum(["C", "F", "K", "percent", "share", "V", "mV", "dBm", "open", "shut"], {
      description: "open = true or 1 stands for an open door, shut = for a shut one",
    }),
    scale: Type.Optional(
      Type.Number({ minimum: -1e6, maximum: 1e6, description: "multiplies the number before its unit is looked at" }),
    ),
    text: Type.Optional(Type.Boolean({ description: "the number stands as text, with a point" })),
    optional: Type.Optional(Type.Boolean({ description: "need not be in every message" })),
    list: Type.Optional(
      Type.Object(
        { at: Pointer, where: Pointer, is: Scalar },
        { ...closed, description: "`at` begins in that item of this list in which `where` stands as `is`" },
      ),
    ),
  },
  closed,
);

export const RecipeSchema = Type.Object(
  {
    id: Id,
    name: Type.Optional(Name),
    topic: Type.String({ minLength: 1, maxLength: 300, description: "MQTT topic filter; + and # as usual" }),
    node: Type.Object(
      {
        fixed: Type.Optional(Id),
        level: Type.Optional(Type.Integer({ minimum: 1, maximum: 30, description: "level of the topic, from 1" })),
        at: Type.Optional(Pointer),
        names: Type.Optional(
          Type.Record(Type.String({ maxLength: 200 }), Id, {
            description: "name that the sensor gives -> node; without it the name is the node",
          }),
        ),
      },
      { ...closed, description: "exactly one of fixed, level and at" },
    ),
    gateway: Type.Optional(
      Type.Unsafe<string>({
        ...Id,
        description: "signs in at the built-in broker and sends for all nodes of this recipe",
      }),
    ),
    time: Type.Optional(
      Type.Object(
        { at: Pointer, as: Type.Enum(["iso", "epoch-s", "epoch-ms"]) },
        { ...closed, description: "left out = when the message arrives; kept messages are then refused" },
      ),
    ),
    values: Type.Array(RecipeValueSchema, { minItems: 1, maxItems: 64 }),
    missing: Type.Optional(Type.Number({ description: "the number that stands for a missing value" })),
  },
  closed,
);
export type RecipeBody = Type.Static<typeof RecipeSchema>;
export type RecipeValue = Type.Static<typeof RecipeValueSchema>;
export const RecipesSchema = Type.Array(RecipeSchema, { maxItems: 50 });

/** What a shape cannot say: how the parts of a recipe fit together. */
export function recipeFaults(recipe: RecipeBody): Fault[] {
  const faults: Fault[] = [];
  const fault = (field: string, reason: string) => faults.push({ field, reason });
  const wrong = filterFault(recipe.topic);
  if (wrong !== null) fault("/topic", wrong);
  else if (filtersOverlap(recipe.topic, `${TOPIC_ROOT}/#`))
    fault("/topic", `reaches into ${TOPIC_ROOT}, which needs no recipe`);
  const { fixed, level, at, names } = recipe.node;
  if ([fixed, level, at].filter((one) => one !== undefined).length !== 1)
    fault("/node", "must say exactly one of fixed, level and at");
  if (fixed !== undefined && names !== undefined) fault("/node/names", "are for a name that is read");
  const levels = recipe.topic.split("/");
  if (level !== undefined && level > levels.length && levels.at(-1) !== "#")
    fault("/node/level", `is beyond the ${levels.length} levels of the topic`);
  const seen = new Set<string>();
  for (const [index, { quantity, unit, text }] of recipe.values.entries()) {
    const field = `/values/${index}`;
    const kind = quantityKind(quantity);
    if (kind === null) fault(`${field}/quantity`, "is none that is known");
    else if (!(RECIPE_UNITS[kind] as readonly string[]).includes(unit))
      fault(`${field}/unit`, `is none of ${quantity}: ${RECIPE_UNITS[kind].join(", ")}`);
    if (seen.has(quantity)) fault(`${field}/quantity`, "stands twice");
    seen.add(quantity);
    if (text === true && kind === "door") fault(`${field}/text`, "is for numbers");
  }
  return faults;
}

/** Recipes of one site: each for itself, and no two for one topic. */
export function recipesFaults(recipes: readonly RecipeBody[]): Fault[] {
  const faults = recipes.flatMap((recipe, index) =>
    recipeFaults(recipe).map(({ field, reason }) => ({ field: `/${index}${field}`, reason })),
  );
  for (const [index, { id, topic }] of recipes.entries()) {
    for (const other of recipes.slice(0, index)) {
      if (other.id === id) faults.push({ field: `/${index}/id`, reason: "stands twice" });
      if (filtersOverlap(topic, other.topic))
        faults.push({ field: `/${index}/topic`, reason: `overlaps with that of "${other.id}"` });
    }
  }
  return faults;
}

const readShape = readerOf(RecipeSchema);
export function readRecipe(value: unknown): Checked<RecipeBody> {
  const shape = readShape(value);
  if (!shape.ok) return shape;
  const faults = recipeFaults(shape.value);
  return faults.length > 0 ? { ok: false, faults } : shape;
}

/** `topic`: as the message came; `payload`: its text. `at`: when it came; left out = now. */
export const RecipeTrySchema = Type.Object(
  {
    recipe: RecipeSchema,
    topic: Type.String({ minLength: 1, maxLength: 500 }),
    payload: Type.String({ maxLength: 65_536 }),
  },
  closed,
);
export type RecipeTryBody = Type.Static<typeof RecipeTrySchema>;

export const RecipeTriedSchema = Type.Object(
  {
    node: Type.Union([Type.String(), Type.Null()]),
    readings: Type.Array(
      Type.Object({ quantity: Type.String(), at: IsoTime, value: Type.Number(), unit: Type.String() }, closed),
    ),
    faults: Type.Array(Type.Object({ field: Type.String(), reason: Type.String() }, closed)),
    notes: Type.Array(Type.String({ description: "what was left out by the recipe's own words" })),
  },
  closed,
);
export type RecipeTriedBody = Type.Static<typeof RecipeTriedSchema>;
