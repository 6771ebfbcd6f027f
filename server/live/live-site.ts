// One site in memory: the log that calls are made from, and what is known of its nodes.
import type { SheetBody } from "#contract/sheet.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { type NodeBody, nodeFromBody, type SiteBody, type ZoneBody, zoneFromBody } from "#contract/zone.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { FeedFetch, SiteLog } from "#core/zone/site.ts";
import { lineageOf, type ZoneNow, zonesAt } from "#core/zone/zones.ts";
import { JournalByZone } from "./journal-by-zone.ts";
import type { LiveSeries } from "./live-series.ts";
import { NodeSeries } from "./node-series.ts";
import { siteIndexOf } from "./site-index.ts";
import type { RecipeBody } from "#contract/recipe.ts";
import type { HeardReading, NumberedFeed, Presence } from "./ports.ts";
import type { DeviceStay, NodeLife } from "./ports-nodes.ts";

/** What a person set up. */
export interface SiteRecord {
  readonly site: SiteBody;
  readonly sheets: readonly SheetBody[];
  /** All that was ever kept of them, oldest first. */
  readonly sheetVersions: readonly { readonly fromMs: number; readonly body: SheetBody }[];
  readonly zones: readonly ZoneBody[];
  readonly nodes: readonly NodeBody[];
}

export interface Trouble {
  readonly count: number;
  readonly lastReason: string | null;
}

/** Names of strangers of which it is known in memory what was refused; the store has the others. */
const MOST_STRANGERS = 500;

export class LiveSite {
  record: SiteRecord;
  /** When the record last changed: calls before that were made from another one. */
  changedMs: number;
  readonly journal: JournalEntry[];
  readonly feeds: FeedFetch[];
  /** The recipe of the weather feed; null when there is none. */
  feed: NumberedFeed | null;
  readonly presence: Map<string, Presence>;
  private readonly troubles = new Map<string, Trouble>();
  /** The same of names that are none of the site's, least lately refused first: whoever makes names up must not fill the memory. */
  private readonly strangers = new Map<string, Trouble>();
  /** Nodes that were taken out of use: their past stays. */
  readonly lives = new Map<string, NodeLife>();
  /** Devices that speak as another node since they were carried to another zone, oldest first. */
  stays: readonly DeviceStay[] = [];
  recipes: readonly RecipeBody[] = [];
  readonly lastHeardMs = new Map<string, number>();
  /** From when on the readings of a node are in memory. */
  readonly loadedFromMs = new Map<string, number>();
  /** In the order in which they came. */
  private series: LiveSeries[] = [];
  /** The same by node: a board of a thousand zones asks for each of them. */
  private readonly seriesByNode = new Map<string, NodeSeries>();
  private view: SiteLog | null = null;
  /** What every packet asks; made anew with the record. */
  private index: {
    readonly nodes: ReadonlyMap<string, NodeBody>;
    readonly zones: ReadonlySet<string>;
    readonly nodesIn: ReadonlyMap<string, readonly NodeBody[]>;
  } | null = null;
  private readonly byZone: JournalByZone;
  /** Zones of a record of which none was ever split: they are the same at any time. */
  private unsplit: { readonly record: readonly ZoneBody[]; readonly zones: readonly ZoneNow[] } | null = null;

  constructor(
    record: SiteRecord,
    changedMs: number,
    journal: JournalEntry[],
    feeds: FeedFetch[],
    feed: NumberedFeed | null,
    presence: Map<string, Presence>,
  ) {
    this.record = record;
    this.changedMs = changedMs;
    this.journal = journal;
    this.byZone = new JournalByZone(journal);
    this.feeds = feeds;
    this.feed = feed;
    this.presence = presence;
  }

  get id(): string {
    return this.record.site.id;
  }

  /** The log as the judge reads it. Its lists grow in place; never keep a part of it over a turn of the event loop. */
  get log(): SiteLog {
    const { site, sheets, sheetVersions, zones, nodes } = this.record;
    if (this.view !== null) return this.view;
    const lists = {
      zones: zones.map(zoneFromBody),
      nodes: nodes.map(nodeFromBody),
      journal: this.journal,
      series: [...this.series],
    };
    this.view = {
      site: site.id,
      timezone: site.timezone,
      altitudeM: site.altitudeM,
      sheets: sheets.map(sheetFromBody),
      sheetVersions: sheetVersions.map(({ fromMs, body }) => ({ fromMs, sheet: sheetFromBody(body) })),
      ...lists,
      feeds: this.feeds,
      index: siteIndexOf(lists, this.byZone),
    };
    return this.view;
  }

  change(record: Partial<SiteRecord>, atMs: number): void {
    this.record = { ...this.record, ...record };
    this.changedMs = atMs;
    this.view = null;
    this.index = null;
    if (record.nodes !== undefined) this.forgetNodes();
  }

  /** What was held of nodes that are none any more; all they said stands in the store. */
  private forgetNodes(): void {
    const { presence, troubles, lives, lastHeardMs, loadedFromMs, seriesByNode } = this;
    for (const held of [presence, troubles, lives, lastHeardMs, loadedFromMs, seriesByNode])
      for (const node of held.keys()) if (!this.knowsNode(node)) held.delete(node);
    this.series = this.series.filter(({ node }) => this.knowsNode(node));
  }

  private get known() {
    if (this.index !== null) return this.index;
    const { nodes, zones } = this.record;
    const nodesIn = new Map<string, NodeBody[]>();
    for (const node of nodes) {
      if (node.zone === null) continue;
      const own = nodesIn.get(node.zone) ?? [];
      own.push(node);
      nodesIn.set(node.zone, own);
    }
    this.index = {
      nodes: new Map(nodes.map((node) => [node.id, node])),
      zones: new Set(zones.map(({ id }) => id)),
      nodesIn,
    };
    return this.index;
  }

  seriesOf(node: string): LiveSeries[] {
    return [...(this.seriesByNode.get(node)?.all ?? [])];
  }

  /** Time of the last reading of the nodes that speak for a zone; null where there is none. */
  newestMs(zone: string, heardByMs: number): number | null {
    let newestMs = Number.NEGATIVE_INFINITY;
    for (const { id } of this.nodesOf(zone, heardByMs)) {
      let before: LiveSeries["atMs"] | null = null;
      for (const { atMs } of this.seriesByNode.get(id)?.all ?? []) {
        // Quantities of one pack have their times in common.
        if (atMs !== before) newestMs = Math.max(newestMs, atMs.at(-1) ?? newestMs);
        before = atMs;
      }
    }
    return newestMs === Number.NEGATIVE_INFINITY ? null : newestMs;
  }

  find(node: string, quantity: string): LiveSeries | null {
    return this.seriesByNode.get(node)?.find(quantity) ?? null;
  }

  private of(node: string): NodeSeries {
    const known = this.seriesByNode.get(node) ?? new NodeSeries();
    this.seriesByNode.set(node, known);
    return known;
  }

  put(series: LiveSeries): void {
    const before = this.of(series.node).put(series);
    if (before === null) this.series.push(series);
    else this.series[this.series.indexOf(before)] = series;
    this.view = null;
  }

  /** Takes what one message brought, oldest first or not. */
  keep(readings: readonly HeardReading[]): void {
    const touched = new Set<NodeSeries>();
    for (const { node, quantity, atMs, value, heardMs } of readings) {
      const own = this.of(node);
      const series = own.find(quantity) ?? own.empty(node, quantity);
      if (series.atMs.length === 0) this.put(series);
      own.insert(series, atMs, value, heardMs);
      touched.add(own);
      this.lastHeardMs.set(node, Math.max(heardMs, this.lastHeardMs.get(node) ?? heardMs));
    }
    for (const own of touched) own.settle();
  }

  /** Lets go of what a node said long ago, as `cutSeries` says. */
  cut(node: string, fromMs: number, heardByMs: number, speaks: (atMs: number) => boolean): void {
    this.seriesByNode.get(node)?.cut(fromMs, heardByMs, speaks);
  }

  knowsNode(node: string): boolean {
    return this.known.nodes.has(node);
  }

  /** The node that a device spoke as at a time. */
  nodeAt(device: string, atMs: number): string {
    return this.stays.filter((stay) => stay.device === device && stay.fromMs <= atMs).at(-1)?.node ?? device;
  }

  /** The name under which the device of a node sends and signs in. */
  deviceOf(node: string): string {
    return this.stays.find((stay) => stay.node === node)?.device ?? node;
  }

  /** Zones that can be judged now. */
  zones(heardByMs: number): readonly ZoneNow[] {
    if (this.byZone.hasSplits) return zonesAt(this.log, heardByMs);
    const { zones: record } = this.record;
    if (this.unsplit?.record !== record) this.unsplit = { record, zones: zonesAt(this.log, heardByMs) };
    return this.unsplit.zones;
  }

  zone(id: string, heardByMs: number): ZoneNow | null {
    return this.zones(heardByMs).find((zone) => zone.id === id) ?? null;
  }

  /** Nodes that speak for a zone: its own, and those of the zones it was split from. */
  nodesOf(zone: string, heardByMs: number): readonly NodeBody[] {
    if (!this.byZone.hasSplits && this.known.zones.has(zone)) return this.known.nodesIn.get(zone) ?? [];
    const ids = new Set(lineageOf(this.log, zone, heardByMs).map(({ id }) => id));
    return this.record.nodes.filter((node) => node.zone !== null && ids.has(node.zone));
  }

  /** Zones that a node speaks for. */
  zonesOf(node: string, heardByMs: number): readonly string[] {
    const of = this.known.nodes.get(node)?.zone ?? null;
    if (of === null) return [];
    // Without a split a node speaks for its own zone and no other.
    if (!this.byZone.hasSplits) return this.known.zones.has(of) ? [of] : [];
    return this.zones(heardByMs)
      .filter(({ id }) => lineageOf(this.log, id, heardByMs).some((zone) => zone.id === of))
      .map(({ id }) => id);
  }

  /** What was refused of a node; null = nothing, or so many strangers were refused since that it is forgotten here. */
  troubleOf(node: string): Trouble | null {
    return this.troubles.get(node) ?? this.strangers.get(node) ?? null;
  }

  refuse(node: string, reason: string, times: number): void {
    const trouble = { count: (this.troubleOf(node)?.count ?? 0) + times, lastReason: reason };
    this.strangers.delete(node);
    if (this.knowsNode(node)) {
      this.troubles.set(node, trouble);
      return;
    }
    this.strangers.set(node, trouble);
    const [first] = this.strangers.keys();
    if (first !== undefined && this.strangers.size > MOST_STRANGERS) this.strangers.delete(first);
  }
}
