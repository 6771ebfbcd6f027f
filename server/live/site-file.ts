// A site as a file, and a site made from one. Nothing is written before every fault has been named.
import type { Fault } from "#contract/faults.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { readSiteFile, type SiteFileBody, type SiteFileTaken, type SiteFileWish } from "#contract/site-file.ts";
import { filtersOverlap } from "#contract/topic-filter.ts";
import { lineageOf } from "#core/zone/zones.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import { watchFeed } from "./desk-feed.ts";
import { zoneAsDrawn } from "./desk-plan.ts";
import type { LiveSite } from "./live-site.ts";
import { type Office, siteOf, touchedZones } from "./office.ts";
import { sameWords } from "./same-words.ts";
import { newJoinSecret } from "./secrets.ts";

/** The zone on record that a node stands in: a joint is of the journal, which does not travel. */
function zoneOnRecord(site: LiveSite, zone: string | null, nowMs: number): string | null {
  return zone === null ? null : (lineageOf(site.log, zone, nowMs).at(-1)?.id ?? null);
}

/** Pictures of pages stay where they were taken: a sheet here must not point at what is not here. */
const withoutPages = ({ photos: _pages, ...sheet }: SheetBody): SheetBody => sheet;

export function createSiteFileDesk(office: Office) {
  const { sites, store, moments, photos, broker } = office;

  const clashes = (file: SiteFileBody, as: string, wish: SiteFileWish): Fault[] => {
    const here = store.records.sheets().map(({ body }) => body);
    const sheets = file.sheets.flatMap((sheet, index) => {
      const standing = here.find(({ id }) => id === sheet.id);
      return wish.sheets === "keep" || standing === undefined || sameWords(withoutPages(standing), withoutPages(sheet))
        ? []
        : [{ field: `/sheets/${index}`, reason: `"${sheet.id}" is here already and differs` }];
    });
    // With `keep` the sheet that stands here is the one in force: it may be no coat, whatever the file calls it.
    const fillers = new Set(here.filter(({ kind }) => kind === "filler").map(({ id }) => id));
    const coats = file.zones.flatMap(({ system }, index) =>
      system.flatMap((sheet, coat) =>
        fillers.has(sheet)
          ? [{ field: `/zones/${index}/system/${coat}`, reason: `"${sheet}" is a crack filler here, no coat` }]
          : [],
      ),
    );
    if (wish.recipes === "leave") return [...sheets, ...coats];
    const recipes = file.recipes.flatMap(({ topic }, index) => {
      const taken = sites
        .all()
        .find((site) => site.id !== as && site.recipes.some((one) => filtersOverlap(one.topic, topic)));
      return taken === undefined
        ? []
        : [{ field: `/recipes/${index}/topic`, reason: `overlaps with a recipe of the site "${taken.id}"` }];
    });
    return [...sheets, ...coats, ...recipes];
  };

  return {
    siteFile(siteId: string): Answer<SiteFileBody> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const nowMs = moments.now();
      const { record, recipes, feed, lives } = found.value;
      const plan = store.records.plan(siteId);
      const picture = plan?.picture ?? null;
      const jpeg = picture === null ? null : photos.store.picture(siteId, picture.photo, "full");
      const used = new Set(record.zones.flatMap(({ system }) => system));
      return good({
        siteFile: 1,
        madeAt: isoFromMs(nowMs),
        site: record.site,
        sheets: record.sheets.filter(({ id }) => used.has(id)).map(withoutPages),
        zones: [...record.zones],
        nodes: record.nodes
          .filter(({ id }) => !lives.has(id))
          .map((node) => ({ ...node, zone: zoneOnRecord(found.value, node.zone, nowMs) })),
        plan: plan === null || jpeg !== null ? plan : { ...plan, picture: null },
        picture: jpeg === null ? null : Buffer.from(jpeg).toString("base64"),
        recipes: [...recipes],
        feed: feed?.body ?? null,
      });
    },

    async takeSiteFile(given: unknown, wish: SiteFileWish, by: string | null): Promise<Answer<SiteFileTaken>> {
      const read = readSiteFile(given);
      if (!read.ok) return refuseAll("invalid", read.faults);
      const file = read.value;
      const id = wish.as ?? file.site.id;
      if (sites.only !== null && sites.only !== id)
        return refuse("conflict", "/site/id", `this server serves the site "${sites.only}" only`);
      if (sites.get(id) !== null)
        return refuse("conflict", "/site/id", `a site "${id}" is here already: take the file in under another id`);
      const standing = clashes(file, id, wish);
      if (standing.length > 0) return refuseAll("conflict", standing);
      const made = file.picture === null ? null : await photos.make(Buffer.from(file.picture, "base64"));
      if (made !== null && !made.ok)
        return refuseAll(
          "invalid",
          made.faults.map(({ reason }) => ({ field: "/picture", reason })),
        );
      // While the picture was made plain, somebody else may have come.
      if (sites.get(id) !== null) return refuse("conflict", "/site/id", `a site "${id}" is here already`);

      const atMs = moments.heard();
      const site = { ...file.site, id };
      const here = new Set(store.records.sheets().map(({ body }) => body.id));
      const fresh = file.sheets.filter((sheet) => !here.has(sheet.id));
      store.together(() => {
        store.records.putSite(site, atMs);
        store.nodes.putJoinSecret(id, newJoinSecret(), atMs);
        for (const sheet of fresh) store.records.putSheet(withoutPages(sheet), atMs);
        for (const zone of file.zones) store.records.putZone(id, zoneAsDrawn(zone), atMs);
        for (const node of file.nodes) store.records.putNode(id, node, atMs);
        if (made !== null) photos.store.add(id, { ...made.value, heardMs: atMs, by });
        if (file.plan !== null) store.records.putPlan(id, planWith(file, made?.value ?? null), atMs);
        if (wish.recipes !== "leave") {
          store.nodes.putRecipes(id, file.recipes, atMs);
          if (file.feed !== null) store.records.putFeed(id, file.feed, atMs);
        }
      });
      sites.open(id, atMs);
      const opened = sites.get(id);
      if (opened !== null) {
        for (const other of sites.all()) {
          if (other.id !== id && fresh.length > 0)
            other.change(
              {
                sheets: store.records.sheets().map(({ body }) => body),
                sheetVersions: store.records.sheetVersions(),
              },
              atMs,
            );
        }
        broker.hear();
        watchFeed(office, opened);
        await office.judgeNow(id, touchedZones(opened, null, atMs));
      }
      return good({ site, zones: file.zones.length, nodes: file.nodes.length, sheets: fresh.length });
    },
  };
}

/** A picture that is made plain anew can come out in another size: what lies under the outlines stays where it was. */
function planWith(
  { plan }: SiteFileBody,
  made: { readonly id: string; readonly widthPx: number; readonly heightPx: number } | null,
): NonNullable<SiteFileBody["plan"]> {
  if (plan === null) throw new RangeError("a file without a plan");
  if (plan.picture === null || made === null) return { ...plan, picture: null };
  const { id, widthPx, heightPx } = made;
  const mPerPx = (plan.picture.mPerPx * plan.picture.widthPx) / widthPx;
  return { ...plan, picture: { ...plan.picture, photo: id, widthPx, heightPx, mPerPx } };
}
