// The client's page of a site: dates, and what to leave alone. It is all that a client sees.
import { ClientPageSchema } from "#contract/access.ts";
import { clientPage } from "../client-page.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams } from "../route-kit.ts";

export async function clientPageRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/client-page",
    {
      config: { may: "client", border: "narrowed" },
      schema: {
        tags: ["sites"],
        summary: "When the floor may be walked on, driven on and washed, not before; and what to leave alone",
        params: SiteParams,
        response: answers(200, "The page", ClientPageSchema, READ_REFUSALS),
      },
    },
    async ({ params, who }) => {
      await desk.judgedOnce(params.site);
      return clientPage(settle(desk.board(params.site)), who?.zone ?? null, (zone) => {
        const handOver = desk.handOver(params.site, zone);
        return handOver.ok ? handOver.value : null;
      });
    },
  );
}
