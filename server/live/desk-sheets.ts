// The desk's sheets: every saving is a version, and none is a limit until somebody has held it against the page.
import type { SheetBody } from "#contract/sheet.ts";
import { contentOf, paperFaults, type SheetVersionBody } from "#contract/sheet-version.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { Fault } from "#contract/faults.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import { put } from "./desk-records.ts";
import { type Office, touchedZones } from "./office.ts";
import { sameWords } from "./same-words.ts";

/** Pictures of pages belong to no site: a sheet serves all of them. */
const NO_SITE = "";
const MOST_PHOTOS = 2000;

export function createSheetDesk(office: Office) {
  const { sites, store, moments, board } = office;
  const { make, store: photos } = office.photos;

  const standing = (id: string): SheetBody | null =>
    store.records.sheets().find(({ body }) => body.id === id)?.body ?? null;
  /** How often its numbers were saved; 0 for a new sheet, and for one that came without the mark. */
  const revisionOf = (id: string): number => standing(id)?.saved?.revision ?? 0;

  /** Keeps a version, takes it into the log of every site, and judges what is coated with it. */
  const keep = async (bodyAt: (atMs: number) => SheetBody): Promise<SheetBody> => {
    const atMs = moments.heard();
    const body = bodyAt(atMs);
    store.together(() => store.records.putSheet(body, atMs));
    for (const site of sites.all()) {
      const { sheets, sheetVersions } = site.record;
      site.change({ sheets: put(sheets, body), sheetVersions: [...sheetVersions, { fromMs: atMs, body }] }, atMs);
      const zones = touchedZones(site, null, atMs);
      for (const zone of zones) {
        board.doubtFrom(site.id, zone, 0);
        office.wantHindsight(site.id, zone);
      }
      await office.judgeNow(site.id, zones);
    }
    return body;
  };

  const faultsOf = (body: SheetBody): Fault[] => [
    ...paperFaults(body),
    ...(body.confirmed === undefined || body.confirmed === null
      ? []
      : [{ field: "/confirmed", reason: "is set by the server, once somebody confirms the sheet" }]),
    ...(body.photos ?? []).flatMap((photo, index) =>
      photos.picture(NO_SITE, photo, "thumb") === null
        ? [{ field: `/photos/${index}`, reason: "is no picture of a page that is here" }]
        : [],
    ),
  ];

  return {
    sheets: (): readonly SheetBody[] => store.records.sheets().map(({ body }) => body),

    sheetVersions(id: string): Answer<readonly SheetVersionBody[]> {
      const versions = store.records.sheetVersions().filter(({ body }) => body.id === id);
      if (versions.length === 0) return refuse("missing", "/sheet", `no sheet "${id}"`);
      return good(versions.map(({ fromMs, body }) => ({ from: isoFromMs(fromMs), sheet: body })));
    },

    async putSheet(body: SheetBody, by: string | null = null): Promise<Answer<SheetBody>> {
      const faults = faultsOf(body);
      if (faults.length > 0) return refuseAll("invalid", faults);
      const before = standing(body.id);
      const revision = revisionOf(body.id);
      if (body.saved !== undefined && body.saved.revision !== revision) {
        return refuse("conflict", "/saved/revision", `is ${body.saved.revision}, and ${revision} stands: look again`);
      }
      if (before !== null && sameWords(contentOf(before), contentOf(body))) return good(before);
      if (before !== null && (before.kind ?? "coat") !== (body.kind ?? "coat"))
        return refuse("conflict", "/kind", `"${body.id}" is a ${before.kind ?? "coat"}: take another id`);
      const { corrects, note } = body.saved ?? {};
      return good(
        await keep((atMs) => ({
          ...body,
          saved: {
            revision: revision + 1,
            at: isoFromMs(atMs),
            by,
            ...(corrects === true && before !== null ? { corrects } : {}),
            ...(note === undefined ? {} : { note }),
          },
        })),
      );
    },

    async confirmSheet(id: string, revision: number, by: string | null): Promise<Answer<SheetBody>> {
      const body = standing(id);
      if (body === null) return refuse("missing", "/sheet", `no sheet "${id}"`);
      const stands = revisionOf(id);
      if (revision !== stands)
        return refuse("conflict", "/revision", `is ${revision}, and ${stands} stands: look at that one`);
      if ((body.confirmed ?? null) !== null) return good(body);
      // Nobody's name is nobody else's: without two names it counts as the same person.
      const same = by === null || (body.saved?.by ?? null) === null || body.saved?.by === by;
      return good(await keep((atMs) => ({ ...body, confirmed: { by, at: isoFromMs(atMs), same } })));
    },

    async addSheetPhoto(bytes: Uint8Array, by: string | null): Promise<Answer<{ readonly id: string }>> {
      if (photos.count(NO_SITE) >= MOST_PHOTOS)
        return refuse("conflict", "/", `${MOST_PHOTOS} pictures of pages are here, and no more are taken`);
      const made = await make(bytes);
      if (!made.ok) return refuseAll("invalid", made.faults);
      const heardMs = moments.heard();
      const { id } = store.together(() => photos.add(NO_SITE, { ...made.value, heardMs, by }));
      return good({ id });
    },

    sheetPhoto(photo: string, size: "full" | "thumb"): Answer<Uint8Array> {
      const picture = photos.picture(NO_SITE, photo, size);
      return picture === null ? refuse("missing", "/photo", `no picture of a page "${photo}"`) : good(picture);
    },
  };
}
