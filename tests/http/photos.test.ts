// Pictures through the HTTP door: what is taken, what is refused and how, and that the picture comes back under its hash.
import { afterAll, beforeAll, expect, it } from "vitest";
import { PhotoListSchema, PhotoSchema } from "#contract/photo.ts";
import { LARGEST_PHOTO_BYTES } from "#contract/photo-limits.ts";
import { readerOf } from "#contract/faults.ts";
import { type Door, openDoor } from "../support/http-door.ts";

let door: Door;
beforeAll(async () => {
  door = await openDoor();
});
afterAll(() => door.app.close());

const PATH = "/sites/boathouse/photos";
const jpeg = { "content-type": "image/jpeg" };

it("takes the file as it is and gives it back unchanged under its hash", async () => {
  const sent = Buffer.from("\xff\xd8\xff any bytes the desk takes", "latin1");
  const answer = await door.ask("POST", `${PATH}?by=Ida`, sent, jpeg);
  expect(answer.statusCode, answer.body).toBe(201);
  const read = readerOf(PhotoSchema)(answer.json());
  expect(read).toMatchObject({ ok: true, value: { by: "Ida" } });
  const { id } = answer.json<{ id: string }>();
  const { photos } = await door.fits(PhotoListSchema, 200, "GET", PATH);
  expect(photos.map((photo) => photo.id)).toEqual([id]);
  for (const path of [`${PATH}/${id}`, `${PATH}/${id}/small`]) {
    const picture = await door.ask("GET", path);
    expect([picture.statusCode, picture.headers["content-type"]]).toEqual([200, "image/jpeg"]);
    expect(picture.rawPayload.equals(sent)).toBe(true);
    expect(picture.headers["cache-control"]).toContain("immutable");
    expect(picture.headers["x-content-type-options"]).toBe("nosniff");
  }
});

it("names field and reason of every refusal", async () => {
  expect((await door.refused(413, "POST", PATH, Buffer.alloc(LARGEST_PHOTO_BYTES + 1), jpeg)).faults).toEqual([
    { field: "/", reason: "is larger than 8 MB: send a smaller picture" },
  ]);
  expect((await door.refused(422, "POST", PATH, undefined, {})).faults?.[0]?.reason).toMatch(/empty/);
  await door.refused(415, "POST", PATH, { picture: 1 }, { "content-type": "application/json" });
  await door.refused(415, "POST", PATH, "x", { "content-type": "image/svg+xml" });
  expect((await door.refused(404, "POST", "/sites/elsewhere/photos", Buffer.from("x"), jpeg)).faults?.[0]?.field).toBe(
    "/site",
  );
  expect((await door.refused(404, "GET", `${PATH}/${"0".repeat(64)}`)).faults?.[0]?.field).toBe("/photo");
  expect((await door.refused(400, "GET", `${PATH}/..%2f..%2fetc`)).faults?.[0]?.field).toBe("/photo");
  expect((await door.refused(400, "POST", `${PATH}?who=Ida`, Buffer.from("x"), jpeg)).faults?.[0]?.field).toBe("/who");
});

it("keeps the small limit everywhere else", async () => {
  await door.refused(413, "POST", "/sites/boathouse/journal", "x".repeat(1024 * 1024 + 1), {
    "content-type": "application/json",
  });
});
