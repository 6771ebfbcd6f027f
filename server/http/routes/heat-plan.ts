// The heat plan: what a heater would do to a zone, and whether it can save the window. Nothing is stored.
import { HeatPlanSchema, HeatQuestionSchema } from "#contract/heat-plan.ts";
import { settle } from "../refused.ts";
import { type Api, answers, type RouteParts, WRITE_REFUSALS, ZoneParams } from "../route-kit.ts";

export async function heatPlanRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.post(
    "/sites/:site/zones/:zone/heat-plan",
    {
      config: { may: "plan", quiet: true },
      schema: {
        tags: ["zones"],
        summary: "What heating would do to the zone: no heat, heat now, heat later, heat then coast; nothing is stored",
        params: ZoneParams,
        body: HeatQuestionSchema,
        response: answers(200, "The four choices, judged", HeatPlanSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => settle(desk.heatPlan(params.site, params.zone, body)),
  );
}
