// Recipes of a site: the list, putting a new one, and what a pasted message would give.
import { RecipesSchema, RecipeTriedSchema, RecipeTrySchema } from "#contract/recipe.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";

const tags = ["nodes"];

export async function recipeRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/recipes",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Recipes by which payloads of other sensors are read",
        params: SiteParams,
        response: answers(200, "The recipes", RecipesSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => [...settle(desk.recipes(params.site))],
  );

  api.put(
    "/sites/:site/recipes",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "A new list of recipes in place of the one before, which is kept as a version",
        params: SiteParams,
        body: RecipesSchema,
        response: answers(200, "The recipes", RecipesSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => [...settle(await desk.putRecipes(params.site, body))],
  );

  api.post(
    "/sites/:site/recipes/try",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "What a message would give by a recipe; nothing is stored",
        params: SiteParams,
        body: RecipeTrySchema,
        response: answers(200, "Readings and faults", RecipeTriedSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => settle(desk.tryRecipe(params.site, body)),
  );
}
