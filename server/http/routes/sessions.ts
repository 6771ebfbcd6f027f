// Sessions and the audit: who is signed in where, ending that, and who did what.
import Type from "typebox";
import { AuditLineSchema, SessionSchema } from "#contract/access.ts";
import { Id, Name } from "#contract/primitives.ts";
import { knownOf, peopleDesk, settleAccess } from "../access-kit.ts";
import { type Api, answers, type RouteParts } from "../route-kit.ts";

const closed = { additionalProperties: false } as const;
const SessionParams = Type.Object({ session: Id }, closed);
const Sessions = Type.Object({ sessions: Type.Array(SessionSchema) }, closed);
const MOST_LINES = 500;
const USUAL_LINES = 100;
const AuditQuery = Type.Object(
  {
    before: Type.Optional(Type.Integer({ minimum: 1 })),
    who: Type.Optional(Name),
    site: Type.Optional(Id),
    limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_LINES })),
  },
  closed,
);
const Audit = Type.Object({ lines: Type.Array(AuditLineSchema) }, closed);

export async function sessionRoutes(api: Api, { access }: RouteParts): Promise<void> {
  api.get(
    "/sessions",
    {
      config: { may: "client", border: "none" },
      schema: {
        tags: ["sessions"],
        summary: "One's own sessions; an owner sees everybody's",
        response: answers(200, "The sessions", Sessions, [409]),
      },
    },
    async (request) => {
      const people = peopleDesk(access);
      return { sessions: [...people.sessions(knownOf(request), request.who?.role === "owner")] };
    },
  );

  api.delete(
    "/sessions/:session",
    {
      config: { may: "client", border: "none" },
      schema: {
        tags: ["sessions"],
        summary: "End a session of one's own; an owner ends anybody's",
        params: SessionParams,
        response: answers(204, "Ended", Type.Null(), [400, 404, 409, 429]),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      const isOwner = request.who?.role === "owner";
      const found = people.sessions(knownOf(request), isOwner).find(({ id }) => id === request.params.session);
      request.about = found === undefined ? null : `${found.name}, ${found.device}`;
      settleAccess(people.endSession(request.params.session, request.known, isOwner));
      return reply.code(204).send(null);
    },
  );

  api.get(
    "/audit",
    {
      config: { may: "own" },
      schema: {
        tags: ["audit"],
        summary: "Who did what, newest first",
        querystring: AuditQuery,
        response: answers(200, "The lines", Audit, [400, 409]),
      },
    },
    async ({ query }) => {
      const { before = null, who = null, site = null, limit = USUAL_LINES } = query;
      return { lines: [...peopleDesk(access).audit({ before, who, site, limit })] };
    },
  );
}
