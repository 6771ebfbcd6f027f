// The spot check: four hand readings and a sheet give a call; nothing is stored.
import { SpotCheckSchema } from "#contract/board.ts";
import { CallSchema } from "#contract/call.ts";
import { sheetsWithin } from "../narrow.ts";
import { Refused, settle } from "../refused.ts";
import { type Api, answers, type RouteParts } from "../route-kit.ts";

export async function spotCheckRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.post(
    "/spot-check",
    {
      config: { may: "read", border: "narrowed", quiet: true },
      schema: {
        tags: ["calls"],
        summary: "The call for slab, air and humidity read by hand; nothing is stored",
        body: SpotCheckSchema,
        response: answers(200, "The call", CallSchema, [403, 404, 413, 415, 422, 429]),
      },
    },
    async ({ body, who }) => {
      if ((who?.sites ?? null) !== null && !sheetsWithin(desk, who).some(({ id }) => id === body.sheet))
        throw new Refused(422, "in the body", [{ field: "/sheet", reason: `no sheet "${body.sheet}"` }]);
      return settle(desk.spotCheck(body));
    },
  );
}
