// The weather feed of a site: its recipe, how it is doing, and a try that keeps nothing.
import Type from "typebox";
import { FeedRecipeSchema, FeedStateSchema, FeedTriedSchema, FeedTrySchema } from "#contract/feed.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";

const tags = ["weather feed"];

export async function feedRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/feed",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "The weather feed: recipe, last fetch, last error, and why it is not used if it is not",
        params: SiteParams,
        response: answers(200, "The feed; `recipe` is null when there is none", FeedStateSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.feed(params.site)),
  );

  api.put(
    "/sites/:site/feed",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Set the recipe of the weather feed; it is asked at once",
        params: SiteParams,
        body: FeedRecipeSchema,
        response: answers(200, "The feed", FeedStateSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => settle(await desk.putFeed(params.site, body)),
  );

  api.delete(
    "/sites/:site/feed",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Take the weather feed away; what it said is not used from now on",
        params: SiteParams,
        response: answers(204, "Gone", Type.Null(), [400, 403, 404, 429]),
      },
    },
    async ({ params }, reply) => {
      settle(await desk.removeFeed(params.site));
      return reply.code(204).send(null);
    },
  );

  api.post(
    "/sites/:site/feed/try",
    {
      config: { may: "plan", quiet: true },
      schema: {
        tags,
        summary: "Read a feed by a recipe, from a pasted body or from its source, and store nothing",
        params: SiteParams,
        body: FeedTrySchema,
        response: answers(
          200,
          "The hours that were read, or each fault with its place",
          FeedTriedSchema,
          WRITE_REFUSALS,
        ),
      },
    },
    async ({ params, body }) => settle(await desk.tryFeed(params.site, body)),
  );
}
