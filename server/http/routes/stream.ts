// Live updates of a site as server-sent events.
import Type from "typebox";
import { STREAM_EVENTS } from "#contract/stream.ts";
import { Refused } from "../refused.ts";
import { type Api, type RouteParts, SiteParams, textAnswers } from "../route-kit.ts";

const Headers = Type.Object({ "last-event-id": Type.Optional(Type.String({ maxLength: 200 })) });

export async function streamRoutes(api: Api, { desk, stream, gate }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/stream",
    {
      config: { may: "read", border: "narrowed" },
      exposeHeadRoute: false,
      schema: {
        tags: ["sites"],
        summary: "Live updates of a site: a snapshot, then changes",
        description: `Server-sent events: ${Object.keys(STREAM_EVENTS).join(", ")}. The data of each is the schema of its name under "stream".`,
        params: SiteParams,
        headers: Headers,
        response: textAnswers("The events", "text/event-stream", [400, 404, 503]),
      },
    },
    async (request, reply) => {
      const { params, headers } = request;
      await desk.judgedOnce(params.site);
      for (const [name, value] of Object.entries(reply.getHeaders()))
        if (value !== undefined) reply.raw.setHeader(name, value);
      const opening = stream.open(params.site, headers["last-event-id"] ?? null, reply.raw, request.who?.zone ?? null);
      if (opening === "missing") throw new Refused(404, "", [{ field: "/site", reason: `no site "${params.site}"` }]);
      if (opening === "full")
        throw new Refused(503, "As many screens follow this server as it takes; try again later.");
      gate.follow(request, reply.raw);
      return reply.hijack();
    },
  );
}
