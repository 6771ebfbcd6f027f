// Pictures of the record: taking one in, the list, and the picture itself. None is ever changed or removed.
import Type from "typebox";
import { PhotoListSchema, PhotoParams, PhotoSchema } from "#contract/photo.ts";
import { LARGEST_PHOTO_BYTES, PHOTO_TYPES } from "#contract/photo-limits.ts";
import { Name } from "#contract/primitives.ts";
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
import { compileValidator } from "../validation.ts";
import { writtenBy } from "../written-by.ts";

const tags = ["photos"];
const closed = { additionalProperties: false } as const;
const PICTURE = { type: "string", format: "binary", description: "the file as it is, not wrapped in a form" } as const;
const TOO_LARGE = new Refused(413, "", [
  { field: "/", reason: `is larger than ${LARGEST_PHOTO_BYTES / 2 ** 20} MB: send a smaller picture` },
]);

export async function photoRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  // Nothing but pictures is read below this line, and nothing but this route reads so much.
  api.removeAllContentTypeParsers();
  api.addContentTypeParser(
    [...PHOTO_TYPES],
    { parseAs: "buffer", bodyLimit: LARGEST_PHOTO_BYTES },
    (_request, body, done) => done(null, body),
  );

  api.post(
    "/sites/:site/photos",
    {
      config: { may: "write" },
      bodyLimit: LARGEST_PHOTO_BYTES,
      schema: {
        tags,
        summary: "Take a picture in: JPEG, PNG or WebP; kept upright as JPEG without what the camera wrote into it",
        params: SiteParams,
        querystring: Type.Object({ by: Type.Optional(Name) }, closed),
        body: { content: Object.fromEntries(PHOTO_TYPES.map((type) => [type, { schema: PICTURE }])) },
        response: answers(201, "The picture as it is kept; its id is its SHA-256", PhotoSchema, WRITE_REFUSALS),
      },
      validatorCompiler: (route) => (route.httpPart === "body" ? (value) => ({ value }) : compileValidator(route)),
      errorHandler(error) {
        throw error.code === "FST_ERR_CTP_BODY_TOO_LARGE" ? TOO_LARGE : error;
      },
    },
    async ({ params, query, body, who }, reply) => {
      if (!Buffer.isBuffer(body)) throw new Refused(422, "", [{ field: "/", reason: "is empty: send the picture" }]);
      return reply.code(201).send(settle(await desk.addPhoto(params.site, body, writtenBy(who, query.by))));
    },
  );

  api.get(
    "/sites/:site/photos",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "What is kept of every picture of a site, oldest first",
        params: SiteParams,
        response: answers(200, "The pictures, without the pictures themselves", PhotoListSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => ({ photos: [...settle(desk.photos(params.site))] }),
  );

  for (const [path, size, summary] of [
    ["/sites/:site/photos/:photo", "full", "A picture"],
    ["/sites/:site/photos/:photo/small", "thumb", "A picture, small"],
  ] as const) {
    api.get(
      path,
      {
        config: { may: "read" },
        schema: {
          tags,
          summary,
          params: PhotoParams,
          response: textAnswers("The picture, JPEG", "image/jpeg", READ_REFUSALS),
        },
      },
      async ({ params }, reply) =>
        reply
          .type("image/jpeg")
          // The name is the hash of what it names.
          .header("cache-control", "private, max-age=31536000, immutable")
          .send(Buffer.from(settle(desk.photo(params.site, params.photo, size)))),
    );
  }
}
