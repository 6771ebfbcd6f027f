// What every group of routes is built with: types, address parts, and the answers written into the document.
import type { BoardText } from "#contract/board-text.ts";
import type { IncomingMessage, ServerResponse } from "node:http";
import type { TypeBoxTypeProvider } from "@fastify/type-provider-typebox";
import type { FastifyBaseLogger, FastifyInstance, RawServerDefault } from "fastify";
import Type from "typebox";
import type { Border, May } from "#contract/access.ts";
import { Id } from "#contract/primitives.ts";
import { PROBLEM_MEDIA_TYPE, ProblemSchema } from "#contract/problem.ts";
import type { AccessDesk } from "./access-port.ts";
import type { CalendarDesk } from "./calendar-port.ts";
import type { Desk } from "./desk.ts";
import type { Gate } from "./gate.ts";
import type { NotifyDesk } from "./notify-port.ts";
import type { OfficeDesk } from "./office-port.ts";
import { Refused, type RefusedStatus, TITLES } from "./refused.ts";
import type { StreamRoutes } from "./stream-port.ts";

export type Api = FastifyInstance<
  RawServerDefault,
  IncomingMessage,
  ServerResponse,
  FastifyBaseLogger,
  TypeBoxTypeProvider
>;

export interface RouteParts {
  readonly desk: Desk;
  readonly stream: StreamRoutes;
  readonly boardText: BoardText;
  /** Null where nothing is known of people. */
  readonly access: AccessDesk | null;
  readonly gate: Gate;
  /** Null where nobody is told of anything. */
  readonly notify: NotifyDesk | null;
  /** Null where the server keeps no calendars. */
  readonly calendars: CalendarDesk | null;
  /** Null where the server is no office. */
  readonly office: OfficeDesk | null;
}

const closed = { additionalProperties: false } as const;
export const SiteParams = Type.Object({ site: Id }, closed);
export const ZoneParams = Type.Object({ site: Id, zone: Id }, closed);
export const NodeParams = Type.Object({ site: Id, node: Id }, closed);

/** Refusals that routes of a kind share. */
export const READ_REFUSALS = [400, 404] as const;
export const WRITE_REFUSALS = [400, 403, 404, 409, 413, 415, 422, 429] as const;

function refusalAnswers(refusals: readonly RefusedStatus[]): Record<string, unknown> {
  const answer = (description: string) => ({
    description,
    content: { [PROBLEM_MEDIA_TYPE]: { schema: ProblemSchema } },
  });
  return {
    // Who is not signed in, or may not, hears so at any route.
    ...Object.fromEntries(([401, 403, ...refusals] as const).map((of) => [of, answer(TITLES[of])])),
    default: answer("Any other failure"),
  };
}

/** The answers of a route as the document shows them: the good one, the refusals by status, and any other failure. */
export function answers<const Status extends number, S extends Type.TSchema>(
  status: Status,
  description: string,
  schema: S,
  refusals: readonly RefusedStatus[],
): { [K in Status]: S } {
  const good = { [status]: { ...schema, "x-response-description": description } } as { [K in Status]: S };
  return { ...good, ...refusalAnswers(refusals) };
}

/** The same for an answer that is not JSON. */
export function textAnswers(
  description: string,
  mediaType: string,
  refusals: readonly RefusedStatus[],
): Record<string, unknown> {
  return { 200: { description, content: { [mediaType]: { schema: Type.String() } } }, ...refusalAnswers(refusals) };
}

/** A thing keeps its id for ever: journal, readings and topics carry it. */
export function sameId(id: string, change: { readonly id?: string | undefined }): void {
  if (change.id === undefined || change.id === id) return;
  throw new Refused(422, "in the body", [{ field: "/id", reason: `cannot become "${change.id}": an id stays` }]);
}

/** What every route states of itself: who may, and how it keeps the borders of those who are bound to sites or a zone. */
declare module "fastify" {
  interface FastifyContextConfig {
    readonly may?: May;
    readonly border?: Border;
    /** Changes nothing that is kept: the audit takes no note of it. */
    readonly quiet?: true;
  }
}
