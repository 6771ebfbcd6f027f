// Read-only links for inspector and client: made and withdrawn by the owner, opened by whoever has one.
import Type from "typebox";
import { AccessSchema, LinkMadeSchema, LinkSchema, LinkWishSchema, TokenSchema } from "#contract/access.ts";
import { Id } from "#contract/primitives.ts";
import { accessBody, DOOR_LIMIT, letIn, peopleDesk, settleAccess } from "../access-kit.ts";
import { callerOf } from "../cookies.ts";
import { settle } from "../refused.ts";
import { type Api, answers, type RouteParts } from "../route-kit.ts";

const tags = ["links"];
const closed = { additionalProperties: false } as const;
const REFUSALS = [400, 404, 409, 413, 415, 422, 429] as const;
const LinkParams = Type.Object({ link: Id }, closed);
const Links = Type.Object({ links: Type.Array(LinkSchema) }, closed);

export async function linkRoutes(api: Api, { desk, access }: RouteParts): Promise<void> {
  api.get(
    "/links",
    {
      config: { may: "own" },
      schema: { tags, summary: "Links that stand", response: answers(200, "The links", Links, [409]) },
    },
    async () => ({ links: [...peopleDesk(access).links()] }),
  );

  api.post(
    "/links",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Make a read-only link to a site or one zone of it",
        body: LinkWishSchema,
        response: answers(201, "The link, its token told this once", LinkMadeSchema, REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      const { site, zone, role, label } = request.body;
      if (zone === null) settle(desk.nodes(site));
      else settle(desk.zonePage(site, zone));
      request.about = `${label}: ${role}, ${site}${zone === null ? "" : ` / ${zone}`}`;
      return reply.code(201).send(people.makeLink(request.body, request.who?.name ?? null));
    },
  );

  api.delete(
    "/links/:link",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Withdraw a link; whoever came by it is out at once",
        params: LinkParams,
        response: answers(204, "Withdrawn", Type.Null(), REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      request.about = people.links().find(({ id }) => id === request.params.link)?.label ?? null;
      settleAccess(people.withdrawLink(request.params.link));
      return reply.code(204).send(null);
    },
  );

  api.post(
    "/links/open",
    {
      config: { may: "anyone", border: "none", ...DOOR_LIMIT },
      schema: {
        tags,
        summary: "Come in by a link; the session stands in a cookie",
        body: TokenSchema,
        response: answers(200, "In, within the borders of the link", AccessSchema, REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      letIn(people, request, reply, settleAccess(people.openLink(request.body.token, callerOf(request))));
      return accessBody(access, desk, request);
    },
  );
}
