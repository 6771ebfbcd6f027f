// Pictures in the embedded store: kept byte for byte across a restart, once, and by site.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { openStore } from "../../server/store/store.ts";

it("keeps pictures byte for byte, the first of two same ones, and each at its site only", async () => {
  const folder = await mkdtemp(join(tmpdir(), "nightslab-photos-"));
  const id = "a".repeat(64);
  const jpeg = Uint8Array.from({ length: 300_000 }, (_, index) => (index * 31) % 256);
  const photo = { id, sentSha256: "b".repeat(64), widthPx: 640, heightPx: 480, heardMs: 1000, by: "Ida" };
  let store = openStore(folder);
  const first = store.photos.add("dock", { ...photo, jpeg, thumb: Uint8Array.of(0, 255, 0) });
  expect(first).toEqual({ ...photo, bytes: 300_000 });
  expect(store.photos.add("dock", { ...photo, heardMs: 9000, by: null, jpeg, thumb: Uint8Array.of(1) })).toEqual(first);
  store.close();
  store = openStore(folder);
  expect(store.photos.list("dock")).toEqual([first]);
  expect([store.photos.count("dock"), store.photos.count("yard")]).toEqual([1, 0]);
  expect(Buffer.from(store.photos.picture("dock", id, "full") ?? []).equals(jpeg)).toBe(true);
  expect([...(store.photos.picture("dock", id, "thumb") ?? [])]).toEqual([0, 255, 0]);
  expect(store.photos.picture("yard", id, "full")).toBeNull();
  store.close();
  await rm(folder, { recursive: true, force: true });
});
