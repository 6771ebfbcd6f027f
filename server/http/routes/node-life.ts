// A node through its life: password, label, moving, replacing, retiring; and the sensors page that shows it all.
import Type from "typebox";
import type { Who } from "#contract/access.ts";
import { CredentialsSchema, CredentialsWishSchema, MoveSchema, ReplaceSchema, RetireSchema } from "#contract/knock.ts";
import { SensorsSchema } from "#contract/sensors.ts";
import { NodeSchema } from "#contract/zone.ts";
import { settle } from "../refused.ts";
import {
  type Api,
  answers,
  NodeParams,
  READ_REFUSALS,
  type RouteParts,
  SiteParams,
  textAnswers,
  WRITE_REFUSALS,
} from "../route-kit.ts";
import { writtenBy } from "../written-by.ts";

const tags = ["nodes"];
const SVG = "image/svg+xml";
/** Loaded with the first label: drawing codes takes many files. */
const labels = () => import("../node-label.ts");

/** With accounts the session says who moved or replaced it. */
function by<T extends { readonly who?: string | null }>(who: Who | null, body: T): T {
  const name = writtenBy(who, body.who, "/who");
  return name === null ? body : { ...body, who: name };
}

export async function nodeLifeRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/sensors",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary:
          "All sensors: how far each is trusted and why, battery and radio ahead of failure, who knocks, what was refused",
        params: SiteParams,
        response: answers(200, "The sensors", SensorsSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.sensors(params.site)),
  );

  api.post(
    "/sites/:site/nodes/:node/credentials",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "A new password for a node, told once; the one before ends",
        params: NodeParams,
        body: CredentialsWishSchema,
        response: answers(201, "Name, password and label", CredentialsSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }, reply) => {
      const { username, password, label } = settle(await desk.makeCredentials(params.site, params.node));
      const { labelSvg } = await labels();
      const svg = labelSvg(label, body.secretInLabel === true ? password : null);
      return reply.code(201).send({ username, password, broker: label.broker, label: svg });
    },
  );

  api.delete(
    "/sites/:site/nodes/:node/credentials",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Take a node's password away; it can then only knock",
        params: NodeParams,
        response: answers(204, "Taken away", Type.Null(), [400, 403, 404, 409, 429]),
      },
    },
    async ({ params }, reply) => {
      settle(await desk.dropCredentials(params.site, params.node));
      return reply.code(204).send(null);
    },
  );

  api.get(
    "/sites/:site/nodes/:node/label",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "A label to print, 62 by 40 mm; its code holds broker, site and node, and no password",
        params: NodeParams,
        response: textAnswers("The label", SVG, READ_REFUSALS),
      },
    },
    async ({ params }, reply) => {
      const label = settle(desk.nodeLabel(params.site, params.node));
      const { labelSvg } = await labels();
      return reply.type(SVG).send(labelSvg(label, null));
    },
  );

  api.post(
    "/sites/:site/nodes/:node/move",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Lay its probes elsewhere; in another zone the device goes on as another node, and history stays",
        params: NodeParams,
        body: MoveSchema,
        response: answers(200, "The node as it is from now on", NodeSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body, who }) => settle(await desk.moveNode(params.site, params.node, by(who, body))),
  );

  api.post(
    "/sites/:site/nodes/:node/replace",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Another device in the same place; what both measured belongs to that place",
        params: NodeParams,
        body: ReplaceSchema,
        response: answers(200, "The node as it is from now on", NodeSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body, who }) => settle(await desk.replaceNode(params.site, params.node, by(who, body))),
  );

  api.post(
    "/sites/:site/nodes/:node/retire",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Take a node out of use: its probes lose their vote, what they said stays",
        params: NodeParams,
        body: RetireSchema,
        response: answers(204, "Retired", Type.Null(), WRITE_REFUSALS),
      },
    },
    async ({ params, body, who }, reply) => {
      settle(await desk.retireNode(params.site, params.node, writtenBy(who, body.who, "/who")));
      return reply.code(204).send(null);
    },
  );
}
