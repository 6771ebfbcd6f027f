// Telling people at a site: who is on call, what became of each message, and the sirens.
import Type from "typebox";
import {
  DeliverySchema,
  OnCallSchema,
  OnCallWishSchema,
  SirenMadeSchema,
  SirenSchema,
  SirenWishSchema,
} from "#contract/notify.ts";
import { Id } from "#contract/primitives.ts";
import { notifyDesk } from "../notify-kit.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";

const tags = ["telling people"];
const closed = { additionalProperties: false } as const;
const MOST_ROWS = 500;
const USUAL_ROWS = 100;
const DeliveryQuery = Type.Object(
  {
    alarm: Type.Optional(Id),
    before: Type.Optional(Type.Integer({ minimum: 1 })),
    limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_ROWS })),
  },
  closed,
);
const Deliveries = Type.Object({ deliveries: Type.Array(DeliverySchema) }, closed);
const Sirens = Type.Object({ sirens: Type.Array(SirenSchema) }, closed);
const SirenParams = Type.Object({ site: Id, siren: Id }, closed);

export async function notifyRoutes(api: Api, { notify }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/on-call",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Who is woken first, and who next when nobody answers",
        params: SiteParams,
        response: answers(200, "The order", OnCallSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(notifyDesk(notify).onCall(params.site)),
  );

  api.put(
    "/sites/:site/on-call",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Set that order; without one everybody who cares for the site is woken",
        params: SiteParams,
        body: OnCallWishSchema,
        response: answers(200, "The order", OnCallSchema, WRITE_REFUSALS),
      },
    },
    async (request) => {
      request.about = request.body.order.join(", ");
      return settle(notifyDesk(notify).putOnCall(request.params.site, request.body.order));
    },
  );

  api.get(
    "/sites/:site/deliveries",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "What was sent to whom, newest first, and what became of it",
        params: SiteParams,
        querystring: DeliveryQuery,
        response: answers(200, "The deliveries", Deliveries, READ_REFUSALS),
      },
    },
    async ({ params, query }) => {
      const { alarm = null, before = null, limit = USUAL_ROWS } = query;
      return { deliveries: [...settle(notifyDesk(notify).deliveries(params.site, { alarm, before, limit }))] };
    },
  );

  api.get(
    "/sites/:site/sirens",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "The sirens that may listen at the built-in broker",
        params: SiteParams,
        response: answers(200, "The sirens", Sirens, READ_REFUSALS),
      },
    },
    async ({ params }) => ({ sirens: [...settle(notifyDesk(notify).sirens(params.site))] }),
  );

  api.post(
    "/sites/:site/sirens",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Let a siren listen; one of that name gets a new password",
        params: SiteParams,
        body: SirenWishSchema,
        response: answers(201, "Its name and password, told this once", SirenMadeSchema, WRITE_REFUSALS),
      },
    },
    async (request, reply) => {
      request.about = request.body.siren;
      return reply.code(201).send(settle(notifyDesk(notify).addSiren(request.params.site, request.body.siren)));
    },
  );

  api.delete(
    "/sites/:site/sirens/:siren",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "That siren may listen no more",
        params: SirenParams,
        response: answers(204, "Gone", Type.Null(), WRITE_REFUSALS),
      },
    },
    async ({ params }, reply) => {
      settle(notifyDesk(notify).removeSiren(params.site, params.siren));
      return reply.code(204).send(null);
    },
  );
}
