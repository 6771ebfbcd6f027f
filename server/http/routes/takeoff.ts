// Takeoff: litres, kits, batches, people and hours of all coats of a site, or of one zone.
import { TakeoffSchema } from "#contract/takeoff.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, ZoneParams } from "../route-kit.ts";

const tags = ["takeoff"];

export async function takeoffRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/takeoff",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "What all coats take, zone by zone, and the order list of those to come",
        params: SiteParams,
        response: answers(200, "The takeoff", TakeoffSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.takeoff(params.site, null)),
  );
  api.get(
    "/sites/:site/zones/:zone/takeoff",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "The same for one zone",
        params: ZoneParams,
        response: answers(200, "The takeoff", TakeoffSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.takeoff(params.site, params.zone)),
  );
}
