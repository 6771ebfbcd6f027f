// All sites in memory, as they stand in the store.
import { filterMatches } from "#contract/topic-filter.ts";
import type { RecipeBody } from "#contract/recipe.ts";
import { LiveSite } from "./live-site.ts";
import type { LiveStore } from "./ports.ts";
import { fitWindow } from "./window.ts";

/** How far back fetches of a weather feed are kept in memory: what is looked at, at any moment that the board shows. */
export const FEED_MS = 76 * 3_600_000;

export class Sites {
  private readonly sites = new Map<string, LiveSite>();

  /** `only`: the one site that this server serves; null for all. */
  constructor(
    private readonly store: LiveStore,
    readonly only: string | null,
  ) {}

  load(nowMs: number): void {
    for (const { body } of this.store.records.sites())
      if (this.only === null || this.only === body.id) this.open(body.id, nowMs);
  }

  /** Reads one site from the store. */
  open(id: string, nowMs: number): void {
    const { records, journal, feeds, presence, quarantine, readings, nodes: access } = this.store;
    const site = records.sites().find(({ body }) => body.id === id);
    if (site === undefined) return;
    const sheets = records.sheets();
    const zones = records.zones(id);
    const nodes = records.nodes(id);
    const changedMs = Math.max(...[site, ...sheets, ...zones, ...nodes].map(({ fromMs }) => fromMs));
    const record = {
      site: site.body,
      sheets: sheets.map(({ body }) => body),
      sheetVersions: records.sheetVersions(),
      zones: zones.map(({ body }) => body),
      nodes: nodes.map(({ body }) => body),
    };
    const live = new LiveSite(
      record,
      changedMs,
      journal.entries(id),
      feeds.since(id, nowMs - FEED_MS),
      records.feed(id),
      presence.of(id),
    );
    for (const { node, heardMs } of readings.latest(id)) {
      live.lastHeardMs.set(node, Math.max(heardMs, live.lastHeardMs.get(node) ?? heardMs));
    }
    for (const { node, reason, count } of quarantine.list(id).reverse()) live.refuse(node, reason, count);
    for (const { node, ...life } of access.lives(id)) live.lives.set(node, life);
    live.recipes = access.recipes(id);
    live.stays = access.devices(id);
    fitWindow(live, this.store, nowMs);
    this.sites.set(id, live);
  }

  get(id: string): LiveSite | null {
    return this.sites.get(id) ?? null;
  }

  all(): readonly LiveSite[] {
    return [...this.sites.values()];
  }

  knowsSite(id: string): boolean {
    return this.sites.has(id);
  }

  knowsNode(site: string, node: string): boolean {
    return this.sites.get(site)?.knowsNode(node) ?? false;
  }

  retiredMs(site: string, node: string): number | null {
    return this.sites.get(site)?.lives.get(node)?.retiredMs ?? null;
  }

  nodeAt(site: string, device: string, atMs: number): string {
    const known = this.sites.get(site);
    // Asked for every reading, and few devices ever moved.
    return known === undefined || known.stays.length === 0 ? device : known.nodeAt(device, atMs);
  }

  /** The recipe for a topic; `site` null = of any site, of which two never hear the same. */
  recipeFor(topic: string, site: string | null): { readonly site: string; readonly recipe: RecipeBody } | null {
    for (const one of this.sites.values()) {
      if (site !== null && one.id !== site) continue;
      const recipe = one.recipes.find((each) => filterMatches(each.topic, topic));
      if (recipe !== undefined) return { site: one.id, recipe };
    }
    return null;
  }
}
