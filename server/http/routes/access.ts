// The ways in and out: who is signed in, signing in and out, the first owner, a forgotten password, a new one.
import type { FastifyReply, FastifyRequest } from "fastify";
import Type from "typebox";
import { AccessSchema, FirstOwnerSchema, PasswordChangeSchema, ResetSchema, SignInSchema } from "#contract/access.ts";
import { accessBody, DOOR_LIMIT, knownOf, letIn, peopleDesk, settleAccess } from "../access-kit.ts";
import type { AccessAnswer, AccessDesk, Signed } from "../access-port.ts";
import { callerOf, takeSessionCookie } from "../cookies.ts";
import { type Api, answers, type RouteParts } from "../route-kit.ts";

const tags = ["access"];
const REFUSALS = [400, 404, 409, 413, 415, 422, 429] as const;
const Nothing = Type.Object({}, { additionalProperties: false });
const doorConfig = { may: "anyone", border: "none", ...DOOR_LIMIT } as const;
/** Failures that the audit takes up in an hour; a flood of them is one line more, and the rest stands in the log. */
const FAILURES_AN_HOUR = 60;
const HOUR_MS = 3_600_000;

export async function accessRoutes(api: Api, { desk, access }: RouteParts): Promise<void> {
  const here = (request: FastifyRequest) => accessBody(access, desk, request);
  let failures = { count: 0, sinceMs: performance.now() };

  const noteFailure = (people: AccessDesk, request: FastifyRequest, way: string): void => {
    request.log.warn({ requestId: request.id, address: request.ip, way }, "not let in at the door");
    if (performance.now() - failures.sinceMs > HOUR_MS) failures = { count: 0, sinceMs: performance.now() };
    failures.count += 1;
    if (failures.count > FAILURES_AN_HOUR + 1) return;
    const did = failures.count > FAILURES_AN_HOUR ? "more failures in this hour than are listed" : `failed: ${way}`;
    people.note({ who: null, role: null, did, site: null, about: "", address: request.ip });
  };
  const enter = async (
    request: FastifyRequest,
    reply: FastifyReply,
    way: string,
    come: (people: AccessDesk) => Promise<AccessAnswer<Signed>>,
  ) => {
    const people = peopleDesk(access);
    const answer = await come(people);
    if (!answer.ok && (answer.refusal === "unknown" || answer.refusal === "missing")) noteFailure(people, request, way);
    letIn(people, request, reply, settleAccess(answer));
    return here(request);
  };

  api.get(
    "/access",
    {
      config: { may: "anyone", border: "narrowed" },
      schema: {
        tags,
        summary: "Whether accounts are on, and who is signed in",
        response: answers(200, "Who asks; null when nobody has signed in", AccessSchema, []),
      },
    },
    async (request) => here(request),
  );

  api.post(
    "/sign-in",
    {
      config: doorConfig,
      schema: {
        tags,
        summary: "Sign in with name and password; the session stands in a cookie",
        body: SignInSchema,
        response: answers(200, "Signed in", AccessSchema, REFUSALS),
      },
    },
    (request, reply) => enter(request, reply, "sign-in", (people) => people.signIn(request.body, callerOf(request))),
  );

  api.post(
    "/first-owner",
    {
      config: doorConfig,
      schema: {
        tags,
        summary: "Become the first owner by the code in the server's terminal",
        body: FirstOwnerSchema,
        response: answers(200, "Signed in", AccessSchema, REFUSALS),
      },
    },
    (request, reply) =>
      enter(request, reply, "first-owner", (people) => people.firstOwner(request.body, callerOf(request))),
  );

  api.post(
    "/reset",
    {
      config: doorConfig,
      schema: {
        tags,
        summary: "Set a new password by a one-time code; every session of that person ends",
        body: ResetSchema,
        response: answers(200, "Signed in", AccessSchema, REFUSALS),
      },
    },
    (request, reply) => enter(request, reply, "reset", (people) => people.reset(request.body, callerOf(request))),
  );

  api.post(
    "/sign-out",
    {
      config: { may: "client", border: "none" },
      schema: {
        tags,
        summary: "End this session",
        body: Nothing,
        response: answers(200, "Signed out", AccessSchema, REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      people.signOut(knownOf(request).session);
      takeSessionCookie(request, reply);
      return { ...here(request), who: null, sites: [] };
    },
  );

  api.post(
    "/password",
    {
      config: { may: "client", border: "none", ...DOOR_LIMIT },
      schema: {
        tags,
        summary: "Change one's own password; every other session of one's own ends",
        body: PasswordChangeSchema,
        response: answers(204, "Changed", Type.Null(), REFUSALS),
      },
    },
    async (request, reply) => {
      const people = peopleDesk(access);
      settleAccess(await people.changePassword(knownOf(request), request.body, callerOf(request)));
      return reply.code(204).send(null);
    },
  );
}
