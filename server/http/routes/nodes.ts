// Nodes: which devices speak for which zone, how exact they are, and whether they are heard.
import Type from "typebox";
import { NodeStateSchema } from "#contract/board.ts";
import { NodeSchema } from "#contract/zone.ts";
import { Refused, settle } from "../refused.ts";
import {
  type Api,
  answers,
  NodeParams,
  READ_REFUSALS,
  type RouteParts,
  sameId,
  SiteParams,
  WRITE_REFUSALS,
} from "../route-kit.ts";

const tags = ["nodes"];
const NodeChange = Type.Partial(NodeSchema, { additionalProperties: false });

export async function nodeRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/nodes",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "All nodes of a site and how they are heard",
        params: SiteParams,
        response: answers(200, "The nodes", Type.Array(NodeStateSchema), READ_REFUSALS),
      },
    },
    async ({ params }) => [...settle(desk.nodes(params.site))],
  );

  api.post(
    "/sites/:site/nodes",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Add a node",
        params: SiteParams,
        body: NodeSchema,
        response: answers(201, "The node", NodeSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }, reply) => reply.code(201).send(settle(await desk.putNode(params.site, body, "add"))),
  );

  api.patch(
    "/sites/:site/nodes/:node",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Change fields of a node; fields that are left out stay",
        params: NodeParams,
        body: NodeChange,
        response: answers(200, "The node as it is now", NodeSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }) => {
      sameId(params.node, body);
      const known = settle(desk.nodes(params.site)).find(({ node }) => node.id === params.node);
      if (known === undefined)
        throw new Refused(404, "", [{ field: "/node", reason: `no node "${params.node}" on this site` }]);
      return settle(await desk.putNode(params.site, { ...known.node, ...body }, "change"));
    },
  );

  api.delete(
    "/sites/:site/nodes/:node",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Remove a node; its readings stay",
        params: NodeParams,
        response: answers(204, "Removed", Type.Null(), [400, 403, 404, 409, 429]),
      },
    },
    async ({ params }, reply) => {
      settle(await desk.removeNode(params.site, params.node));
      return reply.code(204).send(null);
    },
  );
}
