// The desk's pictures of the record: checked and made plain before they are kept, never changed after.
import type { PhotoBody } from "#contract/photo.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import { type Office, siteOf } from "./office.ts";
import type { KeptPhoto } from "./photo-parts.ts";

/** Some years of a large job; without an end one phone could fill the disk. */
const MOST_PHOTOS = 5000;

function bodyOf({ heardMs, ...photo }: KeptPhoto): PhotoBody {
  return { ...photo, heardAt: isoFromMs(heardMs) };
}

export function createPhotoDesk(office: Office) {
  const { make, store } = office.photos;
  return {
    photos(siteId: string): Answer<readonly PhotoBody[]> {
      const found = siteOf(office, siteId);
      return found.ok ? good(store.list(siteId).map(bodyOf)) : found;
    },

    async addPhoto(siteId: string, bytes: Uint8Array, by: string | null): Promise<Answer<PhotoBody>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const made = await make(bytes);
      if (!made.ok) return refuseAll("invalid", made.faults);
      // A phone sends a picture again whose answer it never heard: that one is no new one.
      if (store.count(siteId) >= MOST_PHOTOS && store.picture(siteId, made.value.id, "thumb") === null)
        return refuse("conflict", "/", `this site holds ${MOST_PHOTOS} pictures, and takes no more`);
      const heardMs = office.moments.heard();
      return good(bodyOf(office.store.together(() => store.add(siteId, { ...made.value, heardMs, by }))));
    },

    photo(siteId: string, photo: string, size: "full" | "thumb"): Answer<Uint8Array> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const picture = store.picture(siteId, photo, size);
      return picture === null ? refuse("missing", "/photo", `no picture "${photo}" on this site`) : good(picture);
    },
  };
}
