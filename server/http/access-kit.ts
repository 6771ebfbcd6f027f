// What the routes about people share: the port behind them, refusals of it, and the answer that says who is signed in.
import type { FastifyReply, FastifyRequest } from "fastify";
import type { AccessBody } from "#contract/access.ts";
import type { AccessAnswer, AccessDesk, Known, Signed } from "./access-port.ts";
import { giveCookies } from "./cookies.ts";
import type { Desk } from "./desk.ts";
import { sitesWithin } from "./narrow.ts";
import { Refused } from "./refused.ts";

/** Tries at the door from one address in a minute, whatever they are; the waiting between them is reckoned apart. */
export const DOOR_LIMIT = { rateLimit: { max: 60, timeWindow: 60_000 } } as const;

const STATUS = { missing: 404, invalid: 422, conflict: 409, unknown: 401, wait: 429 } as const;

export function settleAccess<T>(answer: AccessAnswer<T>): T {
  if (answer.ok) return answer.value;
  const detail = answer.refusal === "wait" ? `Wait ${answer.waitS ?? 1} s before the next try.` : "";
  throw new Refused(STATUS[answer.refusal], detail, answer.faults, answer.waitS);
}

/** People are kept only where accounts are on: whoever stands at an open door must not be able to leave keys behind. */
export function peopleDesk(access: AccessDesk | null): AccessDesk {
  if (access !== null && access.mode === "on") return access;
  throw new Refused(409, "Accounts are off: this server asks nobody who they are (setting accounts).");
}

export function knownOf(request: FastifyRequest): Known {
  if (request.known === null) throw new Refused(401, "Sign in first.");
  return request.known;
}

export function accessBody(access: AccessDesk | null, desk: Desk, request: FastifyRequest): AccessBody {
  return {
    accounts: access?.mode ?? "off",
    firstOwner: access !== null && access.mode === "on" && access.needsFirstOwner(),
    who: request.who,
    sites: sitesWithin(desk, request.who).map(({ id, name }) => ({ id, name: name ?? id })),
  };
}

/** Whoever just came in: a fresh session, whatever cookie the browser brought; the one before it ends. */
export function letIn(access: AccessDesk, request: FastifyRequest, reply: FastifyReply, signed: Signed): void {
  if (request.known !== null) access.signOut(request.known.session);
  giveCookies(request, reply, signed);
  request.who = signed.who;
  request.known = null;
}
