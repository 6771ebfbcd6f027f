// Refusals on their way out: whatever stops a request becomes one problem document (RFC 9457).
import type { FastifyReply } from "fastify";
import type { Fault } from "#contract/faults.ts";
import { PROBLEM_MEDIA_TYPE, type ProblemBody, problem } from "#contract/problem.ts";
import type { Answer, Refusal } from "./answer.ts";

export const TITLES = {
  400: "The request cannot be read",
  401: "Sign in first",
  403: "Not allowed",
  404: "Not found",
  405: "Not this method",
  408: "The request took too long",
  409: "Conflicts with what stands",
  413: "Too large",
  414: "The address is too long",
  415: "Not a media type that is read here",
  421: "Not the name of this server",
  422: "Does not fit",
  429: "Too much in a short time",
  431: "The head of the request is too large",
  500: "The server failed",
  503: "Not available now",
} as const;
export type RefusedStatus = keyof typeof TITLES;

/** Thrown anywhere in a route; the error handler of the server turns it into a problem. */
export class Refused extends Error {
  readonly statusCode: RefusedStatus;
  readonly faults: readonly Fault[];
  /** Seconds after which to ask again. */
  readonly waitS: number | undefined;

  constructor(statusCode: RefusedStatus, detail: string, faults: readonly Fault[] = [], waitS?: number) {
    super(detail);
    this.statusCode = statusCode;
    this.faults = faults;
    this.waitS = waitS;
  }
}

const STATUS = { missing: 404, invalid: 422, conflict: 409 } as const satisfies Record<
  Refusal["refusal"],
  RefusedStatus
>;

/** The value of an answer; a refusal is thrown. */
export function settle<T>(answer: Answer<T>): T {
  if (answer.ok) return answer.value;
  throw new Refused(STATUS[answer.refusal], "", answer.faults);
}

function isKnown(status: number): status is RefusedStatus {
  return status in TITLES;
}

/** `requestId` leads from the answer to the log; what went wrong inside stays in the log. */
export function problemOf(error: unknown, requestId: string): ProblemBody {
  const said = error as { statusCode?: unknown; message?: unknown };
  const status = typeof said.statusCode === "number" && isKnown(said.statusCode) ? said.statusCode : 500;
  const faults =
    error instanceof Refused ? error.faults : status === 400 ? [{ field: "/", reason: String(said.message) }] : [];
  const detail = status === 500 ? `The server's log says more under ${requestId}.` : String(said.message ?? "");
  return { ...problem(status, TITLES[status], faults, detail === "" ? undefined : detail), instance: requestId };
}

export function sendProblem(reply: FastifyReply, body: ProblemBody): FastifyReply {
  return reply.code(body.status).type(PROBLEM_MEDIA_TYPE).send(JSON.stringify(body));
}
