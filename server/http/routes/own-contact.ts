// One's own contact: how somebody who has signed in wants to be told.
import Type from "typebox";
import { ContactSchema, OwnContactWishSchema, PushMadeSchema, PushWishSchema, TestedSchema } from "#contract/notify.ts";
import { Id } from "#contract/primitives.ts";
import { notifyDesk, ownerOf } from "../notify-kit.ts";
import type { NotifyDesk, Owner } from "../notify-port.ts";
import { Refused, settle } from "../refused.ts";
import { type Api, answers, type RouteParts, WRITE_REFUSALS } from "../route-kit.ts";
import { TEST_LIMIT } from "./contacts.ts";

const tags = ["telling people"];
const closed = { additionalProperties: false } as const;
const Own = Type.Object({ contact: Type.Union([ContactSchema, Type.Null()]) }, closed);
const PushParams = Type.Object({ push: Id }, closed);
const mine = { may: "read", border: "none" } as const;

function contactOf(desk: NotifyDesk, owner: Owner): string {
  const found = desk.ownContact(owner);
  if (found !== null) return found.id;
  throw new Refused(404, "", [{ field: "/", reason: "you have no contact yet" }]);
}

export async function ownContactRoutes(api: Api, { notify }: RouteParts): Promise<void> {
  // Before the body is read: a link has no contact, whatever it sends.
  api.addHook("preValidation", async (request) => void ownerOf(request));

  api.get(
    "/own-contact",
    {
      config: mine,
      schema: { tags, summary: "One's own contact", response: answers(200, "It; null without one", Own, [409]) },
    },
    async (request) => {
      const owner = ownerOf(request);
      return { contact: notifyDesk(notify).ownContact(owner) };
    },
  );

  api.put(
    "/own-contact",
    {
      config: mine,
      schema: {
        tags,
        summary: "Set one's own contact; web hooks are the owner's to set",
        body: OwnContactWishSchema,
        response: answers(200, "The contact", ContactSchema, WRITE_REFUSALS),
      },
    },
    async (request) => {
      const owner = ownerOf(request);
      return settle(notifyDesk(notify).putOwnContact(owner, request.body));
    },
  );

  api.post(
    "/own-contact/push",
    {
      config: mine,
      schema: {
        tags,
        summary: "Let this browser ring (RFC 8030)",
        body: PushWishSchema,
        response: answers(201, "Its id", PushMadeSchema, WRITE_REFUSALS),
      },
    },
    async (request, reply) => {
      const owner = ownerOf(request);
      const desk = notifyDesk(notify);
      return reply.code(201).send(settle(desk.subscribe(contactOf(desk, owner), request.body)));
    },
  );

  api.delete(
    "/own-contact/push/:push",
    {
      config: mine,
      schema: {
        tags,
        summary: "That browser of one's own rings no more",
        params: PushParams,
        response: answers(204, "Gone", Type.Null(), WRITE_REFUSALS),
      },
    },
    async (request, reply) => {
      const owner = ownerOf(request);
      const desk = notifyDesk(notify);
      settle(desk.unsubscribe(contactOf(desk, owner), request.params.push));
      return reply.code(204).send(null);
    },
  );

  api.post(
    "/own-contact/test",
    {
      config: { ...mine, ...TEST_LIMIT },
      schema: {
        tags,
        summary: "Send a test to all ways of one's own, and say what came of it",
        body: Type.Object({}, closed),
        response: answers(200, "What came of it, way by way", TestedSchema, WRITE_REFUSALS),
      },
    },
    async (request) => {
      const owner = ownerOf(request);
      const desk = notifyDesk(notify);
      return settle(await desk.test(contactOf(desk, owner)));
    },
  );
}
