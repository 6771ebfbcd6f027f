// Calendars of a site: secret addresses, made and withdrawn by each person, and the calendars behind them.
import type { FastifyRequest } from "fastify";
import Type from "typebox";
import { CalendarMadeSchema, CalendarSchema, CalendarWishSchema } from "#contract/calendar.ts";
import { Id } from "#contract/primitives.ts";
import type { CalendarDesk } from "../calendar-port.ts";
import { Refused, settle } from "../refused.ts";
import {
  type Api,
  answers,
  READ_REFUSALS,
  type RouteParts,
  SiteParams,
  textAnswers,
  WRITE_REFUSALS,
} from "../route-kit.ts";

const tags = ["calendars"];
const closed = { additionalProperties: false } as const;
const Calendars = Type.Object({ calendars: Type.Array(CalendarSchema) }, closed);
const CalendarParams = Type.Object({ site: Id, calendar: Id }, closed);
const TokenParams = Type.Object({ token: Type.String({ minLength: 1, maxLength: 100 }) }, closed);

function deskOf({ calendars }: RouteParts): CalendarDesk {
  if (calendars !== null) return calendars;
  throw new Refused(503, "This server keeps no calendars.");
}

/** A link is nobody: what it makes could not be told from what another made. */
function personOf({ who, known }: FastifyRequest): string | null {
  if (who?.kind === "open") return null;
  if (who?.kind === "person" && known !== null) return known.id;
  throw new Refused(403, "Only people who have signed in have calendars.", [{ field: "role", reason: "may not" }]);
}

export async function calendarRoutes(api: Api, parts: RouteParts): Promise<void> {
  const { desk } = parts;

  api.get(
    "/sites/:site/calendars",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "One's own calendars of a site",
        params: SiteParams,
        response: answers(200, "The calendars, without their secrets", Calendars, READ_REFUSALS),
      },
    },
    async (request) => {
      const person = personOf(request);
      settle(desk.nodes(request.params.site));
      return { calendars: [...deskOf(parts).calendars(request.params.site, person)] };
    },
  );

  api.post(
    "/sites/:site/calendars",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Make a secret address for a calendar program (RFC 5545)",
        params: SiteParams,
        body: CalendarWishSchema,
        response: answers(201, "The calendar, its address told this once", CalendarMadeSchema, WRITE_REFUSALS),
      },
    },
    async (request, reply) => {
      const person = personOf(request);
      settle(desk.nodes(request.params.site));
      request.about = request.body.label;
      const made = deskOf(parts).makeCalendar(request.params.site, person, request.body);
      if (made === null) throw new Refused(409, "", [{ field: "/", reason: "there are too many: withdraw one" }]);
      return reply.code(201).send(made);
    },
  );

  api.delete(
    "/sites/:site/calendars/:calendar",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Withdraw a calendar; its address answers no more",
        params: CalendarParams,
        response: answers(204, "Withdrawn", Type.Null(), WRITE_REFUSALS),
      },
    },
    async (request, reply) => {
      const { site, calendar } = request.params;
      if (!deskOf(parts).withdrawCalendar(site, personOf(request), calendar))
        throw new Refused(404, "", [{ field: "/calendar", reason: `no calendar "${calendar}" of yours` }]);
      return reply.code(204).send(null);
    },
  );

  api.get(
    "/calendar/:token.ics",
    {
      // Calendar programs cannot sign in: the token is the right to read one site, as long as its maker may.
      config: { may: "anyone", border: "none" },
      schema: {
        tags,
        summary: "The calendar behind a secret address: windows, hours to come back, hand-over (RFC 5545)",
        params: TokenParams,
        response: textAnswers("The calendar", "text/calendar", [404]),
      },
    },
    async ({ params }, reply) => {
      const text = deskOf(parts).feed(params.token);
      if (text === null)
        throw new Refused(404, "", [{ field: "/token", reason: "this address was withdrawn or never was" }]);
      return reply.type("text/calendar; charset=utf-8").send(text);
    },
  );
}
