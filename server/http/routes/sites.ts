// Sites: the list, the board of one, adding and changing.
import Type from "typebox";
import { BoardSchema } from "#contract/board.ts";
import { boardWithin } from "#contract/border.ts";
import { SiteSchema } from "#contract/zone.ts";
import { createBoardBytes } from "../board-bytes.ts";
import { sitesWithin } from "../narrow.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, sameId, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";

const tags = ["sites"];
const SiteChange = Type.Partial(SiteSchema, { additionalProperties: false });

export async function siteRoutes(api: Api, { desk, stream, boardText }: RouteParts): Promise<void> {
  const bytesOf = createBoardBytes(boardText);
  api.get(
    "/sites",
    {
      config: { may: "read", border: "narrowed" },
      schema: { tags, summary: "All sites", response: answers(200, "The sites", Type.Array(SiteSchema), []) },
    },
    async ({ who }) => sitesWithin(desk, who),
  );

  api.post(
    "/sites",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Add a site",
        body: SiteSchema,
        response: answers(201, "The site", SiteSchema, WRITE_REFUSALS),
      },
    },
    async (request, reply) => reply.code(201).send(settle(await desk.addSite(request.body))),
  );

  api.patch(
    "/sites/:site",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Change fields of a site; fields that are left out stay",
        params: SiteParams,
        body: SiteChange,
        response: answers(200, "The site as it is now", SiteSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => {
      sameId(params.site, body);
      return settle(await desk.patchSite(params.site, body));
    },
  );

  api.get(
    "/sites/:site/board",
    {
      config: { may: "read", border: "narrowed" },
      schema: {
        tags,
        summary: "Every zone's call with its past and the night ahead, and every node",
        params: SiteParams,
        response: answers(200, "The board", BoardSchema, READ_REFUSALS),
      },
    },
    async ({ params, who }, reply) => {
      await desk.judgedOnce(params.site);
      const board = { ...settle(desk.board(params.site)), upTo: stream.upTo(params.site) };
      const zone = who?.zone ?? null;
      const bytes = bytesOf(zone === null ? board : boardWithin(board, zone));
      return reply.type("application/json; charset=utf-8").send(bytes as never);
    },
  );
}
