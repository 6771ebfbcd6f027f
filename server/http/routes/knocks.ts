// Letting nodes in: the join secret, who knocks, and a person's yes or no.
import Type from "typebox";
import { AdmitSchema, JoinSecretSchema, KnockStateSchema } from "#contract/knock.ts";
import { NodeSchema } from "#contract/zone.ts";
import { settle } from "../refused.ts";
import {
  type Api,
  answers,
  NodeParams,
  READ_REFUSALS,
  type RouteParts,
  SiteParams,
  WRITE_REFUSALS,
} from "../route-kit.ts";

const tags = ["nodes"];
const Nothing = Type.Object({}, { additionalProperties: false });

export async function knockRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/join-secret",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "The secret with which nodes knock at this site",
        params: SiteParams,
        response: answers(200, "The secret", JoinSecretSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.joinSecret(params.site)),
  );

  api.post(
    "/sites/:site/join-secret",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "A new join secret in place of the one before; nodes that are in keep their passwords",
        params: SiteParams,
        body: Nothing,
        response: answers(201, "The secret", JoinSecretSchema, WRITE_REFUSALS),
      },
    },
    async ({ params }, reply) => reply.code(201).send(settle(desk.renewJoinSecret(params.site))),
  );

  api.get(
    "/sites/:site/knocks",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Nodes that knock and wait to be let in",
        params: SiteParams,
        response: answers(200, "Who knocks", Type.Array(KnockStateSchema), READ_REFUSALS),
      },
    },
    async ({ params }) => [...settle(desk.knocks(params.site))],
  );

  api.post(
    "/sites/:site/knocks/:node/admit",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Let a node in: it is added, its own key stands from now on, and what was held of it is read",
        params: NodeParams,
        body: AdmitSchema,
        response: answers(201, "The node", NodeSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }, reply) =>
      reply.code(201).send(settle(await desk.admitKnock(params.site, params.node, body))),
  );

  api.post(
    "/sites/:site/knocks/:node/refuse",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Say no to a node that knocks; what was held of it goes",
        params: NodeParams,
        body: Nothing,
        response: answers(204, "Refused", Type.Null(), WRITE_REFUSALS),
      },
    },
    async ({ params }, reply) => {
      settle(desk.refuseKnock(params.site, params.node));
      return reply.code(204).send(null);
    },
  );
}
