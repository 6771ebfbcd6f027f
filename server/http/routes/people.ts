// People and their invitations: the owner's list, and taking an invitation up.
import Type from "typebox";
import {
  AcceptSchema,
  AccessSchema,
  InvitationMadeSchema,
  InvitationSchema,
  InvitationWishSchema,
  OfferSchema,
  PersonChangeSchema,
  PersonSchema,
  ResetMadeSchema,
  TokenSchema,
} from "#contract/access.ts";
import { Id } from "#contract/primitives.ts";
import { accessBody, DOOR_LIMIT, letIn, peopleDesk, settleAccess } from "../access-kit.ts";
import { callerOf } from "../cookies.ts";
import type { Desk } from "../desk.ts";
import { Refused } from "../refused.ts";
import { type Api, answers, type RouteParts } from "../route-kit.ts";

const tags = ["people"];
const closed = { additionalProperties: false } as const;
const REFUSALS = [400, 404, 409, 413, 415, 422, 429] as const;
const Nothing = Type.Object({}, closed);
const PersonParams = Type.Object({ person: Id }, closed);
const InvitationParams = Type.Object({ invitation: Id }, closed);
const People = Type.Object({ people: Type.Array(PersonSchema) }, closed);
const Invitations = Type.Object({ invitations: Type.Array(InvitationSchema) }, closed);

function mustKnow(desk: Desk, sites: readonly string[] | null | undefined): void {
  const known = new Set(desk.sites().map(({ id }) => id));
  const faults = (sites ?? []).flatMap((site, index) =>
    known.has(site) ? [] : [{ field: `/sites/${index}`, reason: `no site "${site}"` }],
  );
  if (faults.length > 0) throw new Refused(422, "in the body", faults);
}

export async function peopleRoutes(api: Api, { desk, access }: RouteParts): Promise<void> {
  api.get(
    "/people",
    {
      config: { may: "own" },
      schema: { tags, summary: "All people", response: answers(200, "The people", People, [409]) },
    },
    async () => ({ people: [...peopleDesk(access).people()] }),
  );

  api.patch(
    "/people/:person",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Change role or sites of a person; it holds from their next request on",
        params: PersonParams,
        body: PersonChangeSchema,
        response: answers(200, "The person as it is now", PersonSchema, REFUSALS),
      },
    },
    async (request) => {
      mustKnow(desk, request.body.sites);
      const person = settleAccess(peopleDesk(access).changePerson(request.params.person, request.body));
      request.about = `${person.name}: ${person.role}, ${person.sites?.join(", ") ?? "every site"}`;
      return person;
    },
  );

  api.delete(
    "/people/:person",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Take a person away; their sessions end, what they wrote stays",
        params: PersonParams,
        response: answers(204, "Gone", Type.Null(), REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      request.about = people.people().find(({ id }) => id === request.params.person)?.name ?? null;
      settleAccess(people.removePerson(request.params.person));
      return reply.code(204).send(null);
    },
  );

  api.post(
    "/people/:person/reset",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Make a one-time code with which a person sets a new password",
        params: PersonParams,
        body: Nothing,
        response: answers(201, "The code, told this once", ResetMadeSchema, REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      request.about = people.people().find(({ id }) => id === request.params.person)?.name ?? null;
      return reply.code(201).send(settleAccess(people.makeReset(request.params.person, request.who?.name ?? null)));
    },
  );

  api.get(
    "/invitations",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Invitations that stand",
        response: answers(200, "The invitations", Invitations, [409]),
      },
    },
    async () => ({ invitations: [...peopleDesk(access).invitations()] }),
  );

  api.post(
    "/invitations",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Invite somebody, with role and sites; works once",
        body: InvitationWishSchema,
        response: answers(201, "The invitation, its token told this once", InvitationMadeSchema, REFUSALS),
      },
    },
    async (request, reply) => {
      mustKnow(desk, request.body.sites);
      const made = settleAccess(peopleDesk(access).invite(request.body, request.who?.name ?? null));
      request.about = `${made.note ?? "somebody"}: ${made.role}, ${made.sites?.join(", ") ?? "every site"}`;
      return reply.code(201).send(made);
    },
  );

  api.delete(
    "/invitations/:invitation",
    {
      config: { may: "own" },
      schema: {
        tags,
        summary: "Take an invitation back",
        params: InvitationParams,
        response: answers(204, "Taken back", Type.Null(), REFUSALS),
      },
    },
    async ({ params }, reply) => {
      settleAccess(peopleDesk(access).withdrawInvitation(params.invitation));
      return reply.code(204).send(null);
    },
  );

  api.post(
    "/invitations/offer",
    {
      config: { may: "anyone", border: "none", quiet: true, ...DOOR_LIMIT },
      schema: {
        tags,
        summary: "What an invitation offers; it is not used by that",
        body: TokenSchema,
        response: answers(200, "Role and sites", OfferSchema, REFUSALS),
      },
    },
    async ({ body }) => {
      const offer = settleAccess(peopleDesk(access).offer(body.token));
      const siteNames =
        offer.sites && desk.sites().flatMap(({ id, name }) => (offer.sites?.includes(id) ? (name ?? id) : []));
      return { ...offer, siteNames };
    },
  );

  api.post(
    "/invitations/accept",
    {
      config: { may: "anyone", border: "none", ...DOOR_LIMIT },
      schema: {
        tags,
        summary: "Take an invitation up, with a name and a password of one's own",
        body: AcceptSchema,
        response: answers(200, "Signed in", AccessSchema, REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      letIn(people, request, reply, settleAccess(await people.accept(request.body, callerOf(request))));
      return accessBody(access, desk, request);
    },
  );
}
