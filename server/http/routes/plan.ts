// The plan of a site: what its outlines are drawn on.
import Type from "typebox";
import { PlanSchema } from "#contract/plan.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";

const tags = ["plan"];

export async function planRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/plan",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "What the outlines of a site are drawn on; null before anything was drawn",
        params: SiteParams,
        response: answers(200, "The plan", Type.Union([PlanSchema, Type.Null()]), READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.plan(params.site)),
  );

  api.put(
    "/sites/:site/plan",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Draw on another sheet or over another picture; outlines stay where they are",
        params: SiteParams,
        body: PlanSchema,
        response: answers(200, "The plan as it is now", PlanSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => settle(desk.putPlan(params.site, body)),
  );
}
