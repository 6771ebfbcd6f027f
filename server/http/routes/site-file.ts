// Sites as files, and night files that are judged and not kept.
import { JudgedNightSchema } from "#contract/judged-night.ts";
import { NightFileSchema } from "#contract/night-file.ts";
import { SiteFileSchema, SiteFileTakenSchema, SiteFileWishSchema } from "#contract/site-file.ts";
import { settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";
import { compileValidator } from "../validation.ts";

const tags = ["site files"];
const LARGEST_SITE_BYTES = 16 * 1024 * 1024;
const LARGEST_NIGHT_BYTES = 32 * 1024 * 1024;

/** The desk reads such a file once, with everything that its parts say of each other. */
const unread = {
  validatorCompiler: (route: Parameters<typeof compileValidator>[0]) =>
    route.httpPart === "body" ? (value: unknown) => ({ value }) : compileValidator(route),
};

export async function siteFileRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/site-file",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "What was set up of a site, without people, readings, journal and secrets",
        params: SiteParams,
        response: answers(200, "The site file", SiteFileSchema, READ_REFUSALS),
      },
    },
    async ({ params }, reply) =>
      reply
        .header("content-disposition", `attachment; filename="${params.site}.site.json"`)
        .send(settle(desk.siteFile(params.site))),
  );

  api.post(
    "/site-files",
    {
      config: { may: "plan" },
      bodyLimit: LARGEST_SITE_BYTES,
      schema: {
        tags,
        summary:
          "Make a site from a file; an id that is taken, or a sheet that differs, is refused before anything is written",
        querystring: SiteFileWishSchema,
        body: SiteFileSchema,
        response: answers(201, "What was made", SiteFileTakenSchema, WRITE_REFUSALS),
      },
      ...unread,
    },
    async (request, reply) => {
      const taken = settle(await desk.takeSiteFile(request.body, request.query, request.who?.name ?? null));
      request.about = taken.site.id;
      return reply.code(201).send(taken);
    },
  );

  api.get(
    "/invented-night",
    {
      config: { may: "read", border: "none" },
      schema: {
        tags,
        summary: "A night file of two invented bays whose readings end now, for a first look",
        response: answers(200, "The night file", NightFileSchema, []),
      },
    },
    async () => desk.inventedNight(),
  );

  api.post(
    "/night-files/judge",
    {
      config: { may: "plan", quiet: true },
      bodyLimit: LARGEST_NIGHT_BYTES,
      schema: {
        tags,
        summary: "Judge a night file and keep nothing of it: its last moment and at most seven before",
        body: NightFileSchema,
        response: answers(200, "The calls", JudgedNightSchema, WRITE_REFUSALS),
      },
      ...unread,
    },
    async ({ body }) => settle(await desk.judgeNight(body)),
  );
}
