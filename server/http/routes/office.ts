// The office: what the servers of many sites say.
import { OFFICE_EVENTS, OfficeAnswerSchema } from "#contract/office.ts";
import { officeWithin } from "#contract/office-border.ts";
import { Refused } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, textAnswers } from "../route-kit.ts";

const tags = ["office"];

export async function officeRoutes(api: Api, { office, gate }: RouteParts): Promise<void> {
  api.get(
    "/office",
    {
      config: { may: "read", border: "narrowed" },
      schema: {
        tags,
        summary: "What the servers of all sites last said, and how long ago; null where this server is no office",
        response: answers(200, "All sites", OfficeAnswerSchema, READ_REFUSALS),
      },
    },
    async ({ who }) => ({
      office: office === null ? null : officeWithin(office.body(), who?.sites ?? null, who?.zone ?? null),
    }),
  );

  api.get(
    "/office/stream",
    {
      config: { may: "read", border: "narrowed" },
      exposeHeadRoute: false,
      schema: {
        tags,
        summary: "Live updates of all sites: a snapshot, then sites whole as they change",
        description: `Server-sent events: ${Object.keys(OFFICE_EVENTS).join(", ")}. Whoever comes back begins with a snapshot.`,
        response: textAnswers("The events", "text/event-stream", [404, 503]),
      },
    },
    async (request, reply) => {
      if (office === null)
        throw new Refused(404, "", [{ field: "/office", reason: "this server is no office (setting office)" }]);
      for (const [name, value] of Object.entries(reply.getHeaders()))
        if (value !== undefined) reply.raw.setHeader(name, value);
      const { who } = request;
      if (office.open(who?.sites ?? null, who?.zone ?? null, reply.raw) === "full")
        throw new Refused(503, "As many screens follow this server as it takes; try again later.");
      gate.follow(request, reply.raw);
      return reply.hijack();
    },
  );
}
