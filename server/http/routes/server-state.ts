// The server itself: its health and its counters.
import { HealthSchema } from "#contract/health.ts";
import { healthFor } from "../narrow.ts";
import { type Api, answers, type RouteParts, textAnswers } from "../route-kit.ts";

const tags = ["server"];

export async function serverStateRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/health",
    {
      config: { may: "anyone", border: "narrowed" },
      schema: {
        tags,
        summary: "State of the server and of each of its parts; 503 when it is down",
        response: {
          ...answers(503, "Down: some part that the calls need does not work", HealthSchema, []),
          ...answers(200, "Up or degraded", HealthSchema, []),
        },
      },
    },
    async ({ who }, reply) => {
      const health = healthFor(desk.health(), who);
      return reply.code(health.state === "down" ? 503 : 200).send(health);
    },
  );

  api.get(
    "/metrics",
    {
      config: { may: "read", border: "none" },
      schema: {
        tags,
        summary: "Counters in the Prometheus text format",
        response: textAnswers("The counters", "text/plain", []),
      },
    },
    async (_request, reply) => reply.type("text/plain; version=0.0.4; charset=utf-8").send(desk.metrics()),
  );
}
