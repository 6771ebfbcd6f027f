// Sites, sheets, zones and nodes in the embedded database: every version is kept.
import type { FeedRecipe } from "#contract/feed.ts";
import type { PlanBody } from "#contract/plan.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";
import type { Database } from "./sql.ts";
import type { Placed, RecordStore } from "./ports.ts";

const EVERYWHERE = "";
/** A site has one weather feed. */
const FEED = "feed";
/** And one plan. */
const PLAN = "plan";

interface Versions<T> {
  standing(site: string): Placed<T>[];
  put(site: string, id: string, body: T | null, fromMs: number): void;
  /** Number of the newest version; 0 before the first. */
  newest(site: string, id: string): number;
  wasRemoved(site: string, id: string): boolean;
  every(
    site: string,
  ): { readonly id: string; readonly version: number; readonly fromMs: number; readonly body: T | null }[];
}

function versionsOf<T>(db: Database, table: string): Versions<T> {
  const standing = db.prepare(
    `SELECT site, body, from_ms FROM ${table} AS one WHERE site = ? AND body IS NOT NULL
       AND version = (SELECT max(version) FROM ${table} AS other WHERE other.site = one.site AND other.id = one.id)
     ORDER BY id`,
  );
  const add = db.prepare(
    `INSERT INTO ${table} (site, id, version, from_ms, body)
     SELECT ?1, ?2, 1 + coalesce((SELECT max(version) FROM ${table} WHERE site = ?1 AND id = ?2), 0), ?3, ?4`,
  );
  const newest = db.prepare(`SELECT coalesce(max(version), 0) FROM ${table} WHERE site = ? AND id = ?`);
  const last = db.prepare(`SELECT body IS NULL FROM ${table} WHERE site = ? AND id = ? ORDER BY version DESC LIMIT 1`);
  const every = db.prepare(
    `SELECT id, version, from_ms, body FROM ${table} WHERE site = ? ORDER BY from_ms, id, version`,
  );
  return {
    every: (site) =>
      every.all(site).map(([id, version, fromMs, body]) => ({
        id: id as string,
        version: version as number,
        fromMs: fromMs as number,
        body: body === null ? null : (JSON.parse(body as string) as T),
      })),
    standing: (site) =>
      standing.all(site).map(([of, body, fromMs]) => ({
        site: of as string,
        body: JSON.parse(body as string) as T,
        fromMs: fromMs as number,
      })),
    put: (site, id, body, fromMs) => void add.run(site, id, fromMs, body === null ? null : JSON.stringify(body)),
    newest: (site, id) => newest.get(site, id)?.[0] as number,
    wasRemoved: (site, id) => last.get(site, id)?.[0] === 1,
  };
}

export function createRecords(db: Database): RecordStore {
  const sites = versionsOf<SiteBody>(db, "sites");
  const sheets = versionsOf<SheetBody>(db, "sheets");
  const zones = versionsOf<ZoneBody>(db, "zones");
  const nodes = versionsOf<NodeBody>(db, "nodes");
  const feeds = versionsOf<FeedRecipe>(db, "feed_recipes");
  const plans = versionsOf<PlanBody>(db, "plans");
  return {
    sites: () => sites.standing(EVERYWHERE),
    sheets: () => sheets.standing(EVERYWHERE),
    sheetVersions: () =>
      sheets
        .every(EVERYWHERE)
        .flatMap(({ body, fromMs }) => (body === null ? [] : [{ site: EVERYWHERE, body, fromMs }])),
    zones: (site) => zones.standing(site),
    nodes: (site) => nodes.standing(site),
    putSite: (body, fromMs) => sites.put(EVERYWHERE, body.id, body, fromMs),
    putSheet: (body, fromMs) => sheets.put(EVERYWHERE, body.id, body, fromMs),
    putZone: (site, body, fromMs) => zones.put(site, body.id, body, fromMs),
    putNode: (site, body, fromMs) => nodes.put(site, body.id, body, fromMs),
    removeZone: (site, zone, fromMs) => zones.put(site, zone, null, fromMs),
    removeNode: (site, node, fromMs) => nodes.put(site, node, null, fromMs),
    feed(site) {
      const [standing] = feeds.standing(site);
      return standing === undefined ? null : { version: feeds.newest(site, FEED), body: standing.body };
    },
    putFeed(site, body, fromMs) {
      feeds.put(site, FEED, body, fromMs);
      return feeds.newest(site, FEED);
    },
    plan: (site) => plans.standing(site)[0]?.body ?? null,
    putPlan: (site, body, fromMs) => plans.put(site, PLAN, body, fromMs),
    history: (site) =>
      [
        ...sites.every(EVERYWHERE).flatMap((one) => (one.id === site ? [{ kind: "site" as const, ...one }] : [])),
        ...sheets.every(EVERYWHERE).map((one) => ({ kind: "sheet" as const, ...one })),
        ...zones.every(site).map((one) => ({ kind: "zone" as const, ...one })),
        ...nodes.every(site).map((one) => ({ kind: "node" as const, ...one })),
      ].sort((a, b) => a.fromMs - b.fromMs),
    wasRemoved: (kind, site, id) => (kind === "zone" ? zones : nodes).wasRemoved(site, id),
  };
}
