// Night files: a zone with all that its calls are made from, out of the server and into it.
import Type from "typebox";
import { NightFileSchema } from "#contract/night-file.ts";
import { jsonPieces } from "#core/record/json-pieces.ts";
import { paced } from "../paced.ts";
import { settle } from "../refused.ts";
import {
  type Api,
  answers,
  READ_REFUSALS,
  type RouteParts,
  SiteParams,
  WRITE_REFUSALS,
  ZoneParams,
} from "../route-kit.ts";
import { compileValidator } from "../validation.ts";

const tags = ["night files"];
const LARGEST_FILE_BYTES = 32 * 1024 * 1024;
const count = Type.Integer({ minimum: 0 });
const Imported = Type.Object({ readings: count, entries: count }, { additionalProperties: false });

export async function nightFileRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/zones/:zone/night-file",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "A zone as a night file: everything needed to judge it again elsewhere",
        params: ZoneParams,
        response: answers(200, "The night file", NightFileSchema, READ_REFUSALS),
      },
    },
    async ({ params }, reply) => {
      const file = settle(desk.nightFile(params.site, params.zone));
      return reply
        .type("application/json; charset=utf-8")
        .header("content-disposition", `attachment; filename="${params.site}-${params.zone}.night.json"`)
        .send(paced(jsonPieces(file as Record<string, unknown>)) as never);
    },
  );

  api.post(
    "/sites/:site/night-files",
    {
      config: { may: "plan" },
      bodyLimit: LARGEST_FILE_BYTES,
      schema: {
        tags,
        summary: "Take the readings and journal of a night file into a site; what is there already stays as it is",
        params: SiteParams,
        body: NightFileSchema,
        response: answers(200, "What was new", Imported, WRITE_REFUSALS),
      },
      // The desk reads the file once, with everything that its parts say of each other.
      validatorCompiler: (route) => (route.httpPart === "body" ? (value) => ({ value }) : compileValidator(route)),
    },
    async ({ params, body }) => settle(await desk.importNightFile(params.site, body)),
  );
}
