// Zones: one page of everything about a zone, adding, changing and removing.
import Type from "typebox";
import { ZonePageSchema } from "#contract/board.ts";
import { ZoneSchema } from "#contract/zone.ts";
import { settle } from "../refused.ts";
import {
  type Api,
  answers,
  READ_REFUSALS,
  type RouteParts,
  sameId,
  SiteParams,
  WRITE_REFUSALS,
  ZoneParams,
} from "../route-kit.ts";

const tags = ["zones"];
const ZoneChange = Type.Partial(ZoneSchema, { additionalProperties: false });

export async function zoneRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/zones/:zone",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "One zone: call, past, night ahead, sheets and journal",
        params: ZoneParams,
        response: answers(200, "The zone", ZonePageSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.zonePage(params.site, params.zone)),
  );

  api.post(
    "/sites/:site/zones",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Add a zone",
        params: SiteParams,
        body: ZoneSchema,
        response: answers(201, "The zone", ZoneSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }, reply) => reply.code(201).send(settle(await desk.putZone(params.site, body, "add"))),
  );

  api.patch(
    "/sites/:site/zones/:zone",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Change fields of a zone; fields that are left out stay",
        params: ZoneParams,
        body: ZoneChange,
        response: answers(200, "The zone as it is now", ZoneSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => {
      sameId(params.zone, body);
      const { zone } = settle(desk.zonePage(params.site, params.zone));
      return settle(await desk.putZone(params.site, { ...zone, ...body }, "change"));
    },
  );

  api.delete(
    "/sites/:site/zones/:zone",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Remove a zone",
        params: ZoneParams,
        response: answers(204, "Removed", Type.Null(), [400, 403, 404, 409, 429]),
      },
    },
    async ({ params }, reply) => {
      settle(await desk.removeZone(params.site, params.zone));
      return reply.code(204).send(null);
    },
  );
}
