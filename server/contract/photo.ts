// Pictures of the record on the wire: what is kept of one.
import Type from "typebox";
import { Id, IsoTime, Name } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const Sha256 = Type.String({ pattern: "^[0-9a-f]{64}$", description: "SHA-256 in small hex letters" });

/**
 * `id`: SHA-256 of the picture as it is kept (JPEG, without what the camera wrote into it), so that the picture proves
 * its name. `sentSha256`: of the file as it was sent, for whoever still has it.
 */
export const PhotoSchema = Type.Object(
  {
    id: Sha256,
    sentSha256: Sha256,
    widthPx: Type.Integer({ minimum: 1 }),
    heightPx: Type.Integer({ minimum: 1 }),
    bytes: Type.Integer({ minimum: 1 }),
    heardAt: IsoTime,
    by: Type.Union([Name, Type.Null()]),
  },
  closed,
);
export type PhotoBody = Type.Static<typeof PhotoSchema>;
export const PhotoListSchema = Type.Object({ photos: Type.Array(PhotoSchema) }, closed);
export const PhotoParams = Type.Object({ site: Id, photo: Sha256 }, closed);
