// Pictures of the pages that sheets were typed from. They belong to no site, as sheets do.
import { LARGEST_PHOTO_BYTES, PHOTO_TYPES } from "#contract/photo-limits.ts";
import { SheetPhotoParams, SheetPhotoSchema } from "#contract/sheet-version.ts";
import { sheetsWithin } from "../narrow.ts";
import { Refused, settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, textAnswers, WRITE_REFUSALS } from "../route-kit.ts";
import { compileValidator } from "../validation.ts";
import { writtenBy } from "../written-by.ts";

const tags = ["sheets"];
const PICTURE = { type: "string", format: "binary", description: "the file as it is, not wrapped in a form" } as const;
const TOO_LARGE = new Refused(413, "", [
  { field: "/", reason: `is larger than ${LARGEST_PHOTO_BYTES / 2 ** 20} MB: send a smaller picture` },
]);

export async function sheetPhotoRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  // Nothing but pictures is read below this line.
  api.removeAllContentTypeParsers();
  api.addContentTypeParser(
    [...PHOTO_TYPES],
    { parseAs: "buffer", bodyLimit: LARGEST_PHOTO_BYTES },
    (_request, body, done) => done(null, body),
  );

  api.post(
    "/sheet-photos",
    {
      config: { may: "plan" },
      bodyLimit: LARGEST_PHOTO_BYTES,
      schema: {
        tags,
        summary: "Take a picture of a page in: JPEG, PNG or WebP; a sheet then names it in `photos`",
        body: { content: Object.fromEntries(PHOTO_TYPES.map((type) => [type, { schema: PICTURE }])) },
        response: answers(201, "Its name: the SHA-256 of the picture as it is kept", SheetPhotoSchema, WRITE_REFUSALS),
      },
      validatorCompiler: (route) => (route.httpPart === "body" ? (value) => ({ value }) : compileValidator(route)),
      errorHandler(error) {
        throw error.code === "FST_ERR_CTP_BODY_TOO_LARGE" ? TOO_LARGE : error;
      },
    },
    async ({ body, who }, reply) => {
      if (!Buffer.isBuffer(body)) throw new Refused(422, "", [{ field: "/", reason: "is empty: send the picture" }]);
      return reply.code(201).send(settle(await desk.addSheetPhoto(body, writtenBy(who, null))));
    },
  );

  for (const [path, size, summary] of [
    ["/sheet-photos/:photo", "full", "A picture of a page"],
    ["/sheet-photos/:photo/small", "thumb", "A picture of a page, small"],
  ] as const) {
    api.get(
      path,
      {
        config: { may: "read", border: "narrowed" },
        schema: {
          tags,
          summary,
          params: SheetPhotoParams,
          response: textAnswers("The picture, JPEG", "image/jpeg", READ_REFUSALS),
        },
      },
      async ({ params: { photo }, who }, reply) => {
        if ((who?.sites ?? null) !== null && !sheetsWithin(desk, who).some(({ photos }) => photos?.includes(photo)))
          throw new Refused(404, "", [{ field: "/photo", reason: `no picture of a page "${photo}"` }]);
        return reply
          .type("image/jpeg")
          .header("cache-control", "private, max-age=31536000, immutable")
          .send(Buffer.from(settle(desk.sheetPhoto(photo, size))));
      },
    );
  }
}
