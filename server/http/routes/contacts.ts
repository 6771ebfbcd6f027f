// Contacts: who is told, and by which ways; kept by whoever plans.
import Type from "typebox";
import {
  ContactChangeSchema,
  ContactMadeSchema,
  ContactSchema,
  ContactWishSchema,
  PushKeySchema,
  PushMadeSchema,
  PushWishSchema,
  TestedSchema,
} from "#contract/notify.ts";
import { Id } from "#contract/primitives.ts";
import { notifyDesk } from "../notify-kit.ts";
import { Refused, settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, WRITE_REFUSALS } from "../route-kit.ts";

const tags = ["telling people"];
const closed = { additionalProperties: false } as const;
const ContactParams = Type.Object({ contact: Id }, closed);
const PushParams = Type.Object({ contact: Id, push: Id }, closed);
const Contacts = Type.Object({ contacts: Type.Array(ContactSchema) }, closed);
/** Each test rings somebody's phone. */
export const TEST_LIMIT = { rateLimit: { max: 6, timeWindow: 60_000 } } as const;

/** The server asks whatever address a web hook names, also inside its network: only an owner decides that. */
function ownersWebhook(body: { readonly webhook?: unknown }, role: string | undefined): void {
  if (body.webhook === undefined || body.webhook === null || role === "owner") return;
  throw new Refused(403, "Web hooks are set by an owner.", [{ field: "/webhook", reason: "is the owner's to set" }]);
}

export async function contactRoutes(api: Api, { notify }: RouteParts): Promise<void> {
  api.get(
    "/contacts",
    {
      config: { may: "plan" },
      schema: { tags, summary: "Who is told, and how their ways do", response: answers(200, "Contacts", Contacts, []) },
    },
    async () => ({ contacts: [...notifyDesk(notify).contacts()] }),
  );

  api.post(
    "/contacts",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Add a contact",
        body: ContactWishSchema,
        response: answers(
          201,
          "The contact; a secret that was made is told this once",
          ContactMadeSchema,
          WRITE_REFUSALS,
        ),
      },
    },
    async (request, reply) => {
      ownersWebhook(request.body, request.who?.role);
      request.about = request.body.name;
      return reply.code(201).send(settle(notifyDesk(notify).addContact(request.body)));
    },
  );

  api.patch(
    "/contacts/:contact",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Change a contact",
        params: ContactParams,
        body: ContactChangeSchema,
        response: answers(200, "The contact", ContactMadeSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body, who }) => {
      ownersWebhook(body, who?.role);
      return settle(notifyDesk(notify).changeContact(params.contact, body));
    },
  );

  api.delete(
    "/contacts/:contact",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Remove a contact; what was still to be sent to it is not",
        params: ContactParams,
        response: answers(204, "Gone", Type.Null(), WRITE_REFUSALS),
      },
    },
    async ({ params }, reply) => {
      settle(notifyDesk(notify).removeContact(params.contact));
      return reply.code(204).send(null);
    },
  );

  api.post(
    "/contacts/:contact/push",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Let a browser ring for a contact (RFC 8030); the same browser again takes its own place",
        params: ContactParams,
        body: PushWishSchema,
        response: answers(201, "Its id", PushMadeSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body }, reply) => reply.code(201).send(settle(notifyDesk(notify).subscribe(params.contact, body))),
  );

  api.delete(
    "/contacts/:contact/push/:push",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "That browser rings no more",
        params: PushParams,
        response: answers(204, "Gone", Type.Null(), WRITE_REFUSALS),
      },
    },
    async ({ params }, reply) => {
      settle(notifyDesk(notify).unsubscribe(params.contact, params.push));
      return reply.code(204).send(null);
    },
  );

  api.post(
    "/contacts/:contact/test",
    {
      config: { may: "plan", ...TEST_LIMIT },
      schema: {
        tags,
        summary: "Send a test to all ways of a contact, and say what came of it",
        params: ContactParams,
        body: Type.Object({}, closed),
        response: answers(200, "What came of it, way by way", TestedSchema, WRITE_REFUSALS),
      },
    },
    async ({ params }) => settle(await notifyDesk(notify).test(params.contact)),
  );

  api.get(
    "/push-key",
    {
      config: { may: "read", border: "none" },
      schema: {
        tags,
        summary: "The key that browsers ask for when they subscribe (RFC 8292)",
        response: answers(200, "The key", PushKeySchema, READ_REFUSALS),
      },
    },
    async () => ({ key: notifyDesk(notify).pushKey() }),
  );
}
