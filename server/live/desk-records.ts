// The desk's record of a site: sheets, zones and nodes are added and changed; every version is kept.
import type { NodeStateBody } from "#contract/board.ts";
import type { Fault } from "#contract/faults.ts";
import { isTimezone, type NodeBody, type SiteBody, type ZoneBody } from "#contract/zone.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import { zoneAsDrawn, zoneOutlineFaults } from "./desk-plan.ts";
import type { LiveSite, SiteRecord } from "./live-site.ts";
import { type Office, siteOf, touchedZones } from "./office.ts";
import { newJoinSecret } from "./secrets.ts";
import { fitWindow } from "./window.ts";

const NO_TIMEZONE = "is not an IANA time zone";

interface NamedSheet {
  readonly id: string;
  readonly kind?: "coat" | "filler";
}

export function systemFaults(sheets: readonly NamedSheet[], zone: ZoneBody, at = ""): Fault[] {
  return zone.system.flatMap((id, index) => {
    const sheet = sheets.find((one) => one.id === id);
    const field = `${at}/system/${index}`;
    if (sheet === undefined) return [{ field, reason: `no sheet "${id}"` }];
    return sheet.kind === "filler" ? [{ field, reason: `"${id}" is a crack filler, no coat` }] : [];
  });
}

export function put<T extends { readonly id: string }>(list: readonly T[], item: T): T[] {
  return [...list.filter(({ id }) => id !== item.id), item].sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** Zones that exist by a split only: their record stands in the journal. */
function isPart(site: LiveSite, zone: string): boolean {
  return site.journal.some((entry) => entry.did === "split" && entry.into.some(({ id }) => id === zone));
}

export function createRecordDesk(office: Office) {
  const { sites, store, moments, board, stream } = office;

  /** Keeps a change, takes it into the log, and judges what it touches. */
  const change = async (
    site: LiveSite,
    write: (atMs: number) => void,
    record: Partial<SiteRecord>,
    zones: readonly (string | null)[],
  ) => {
    const atMs = moments.heard();
    store.together(() => write(atMs));
    site.change(record, atMs);
    fitWindow(site, store, atMs);
    await judgeAnew(site, [...new Set(zones.flatMap((zone) => touchedZones(site, zone, atMs)))]);
  };
  /** With another record the hours in which nothing was shown look different too. */
  const judgeAnew = async (site: LiveSite, zones: readonly string[]) => {
    for (const zone of zones) {
      board.doubtFrom(site.id, zone, 0);
      office.wantHindsight(site.id, zone);
    }
    await office.judgeNow(site.id, zones);
  };
  const nodeTold = (site: LiveSite, node: NodeBody) =>
    stream.publish(site.id, "node", node.id, board.nodeState(site, node));

  return {
    sites: (): readonly SiteBody[] => sites.all().map(({ record }) => record.site),
    async addSite(body: SiteBody): Promise<Answer<SiteBody>> {
      if (sites.only !== null && sites.only !== body.id)
        return refuse("conflict", "/id", `this server serves the site "${sites.only}" only`);
      if (sites.get(body.id) !== null) return refuse("conflict", "/id", `"${body.id}" is there already`);
      if (!isTimezone(body.timezone)) return refuse("invalid", "/timezone", NO_TIMEZONE);
      const atMs = moments.heard();
      store.together(() => {
        store.records.putSite(body, atMs);
        store.nodes.putJoinSecret(body.id, newJoinSecret(), atMs);
      });
      sites.open(body.id, atMs);
      return good(body);
    },

    async patchSite(id: string, changed: Partial<SiteBody>): Promise<Answer<SiteBody>> {
      const found = siteOf(office, id);
      if (!found.ok) return found;
      const body = { ...found.value.record.site, ...changed, id };
      if (!isTimezone(body.timezone)) return refuse("invalid", "/timezone", NO_TIMEZONE);
      await change(found.value, (atMs) => store.records.putSite(body, atMs), { site: body }, [null]);
      return good(body);
    },

    async putZone(siteId: string, body: ZoneBody, mode: "add" | "change"): Promise<Answer<ZoneBody>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const { record } = found.value;
      const known = record.zones.some(({ id }) => id === body.id);
      if (isPart(found.value, body.id))
        return refuse("conflict", "/id", `"${body.id}" is part of a zone that was split`);
      if (mode === "add" && known) return refuse("conflict", "/id", `"${body.id}" is there already`);
      if (mode === "change" && !known) return refuse("missing", "/zone", `no zone "${body.id}" on this site`);
      if (mode === "add" && store.records.wasRemoved("zone", siteId, body.id)) {
        return refuse("conflict", "/id", `"${body.id}" was removed, and its journal stands: take another id`);
      }
      const faults = [...systemFaults(record.sheets, body), ...zoneOutlineFaults(body)];
      if (faults.length > 0) return refuseAll("invalid", faults);
      const zone = zoneAsDrawn(body);
      await change(
        found.value,
        (atMs) => store.records.putZone(siteId, zone, atMs),
        { zones: put(record.zones, zone) },
        [zone.id],
      );
      return good(zone);
    },

    async removeZone(siteId: string, zone: string): Promise<Answer<null>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const { record } = found.value;
      if (isPart(found.value, zone)) return refuse("conflict", "/zone", `"${zone}" is part of a zone that was split`);
      if (!record.zones.some(({ id }) => id === zone))
        return refuse("missing", "/zone", `no zone "${zone}" on this site`);
      const node = record.nodes.find((one) => one.zone === zone);
      if (node !== undefined) return refuse("conflict", "/zone", `node "${node.id}" still speaks for it`);
      await change(
        found.value,
        (atMs) => store.records.removeZone(siteId, zone, atMs),
        { zones: record.zones.filter(({ id }) => id !== zone) },
        [],
      );
      office.clearCall(siteId, zone);
      return good(null);
    },

    nodes(siteId: string): Answer<readonly NodeStateBody[]> {
      const found = siteOf(office, siteId);
      return found.ok ? good(found.value.record.nodes.map((node) => board.nodeState(found.value, node))) : found;
    },

    async putNode(siteId: string, body: NodeBody, mode: "add" | "change"): Promise<Answer<NodeBody>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const { record } = found.value;
      const known = record.nodes.find(({ id }) => id === body.id);
      if (mode === "add" && known !== undefined) return refuse("conflict", "/id", `"${body.id}" is there already`);
      if (mode === "change" && known === undefined)
        return refuse("missing", "/node", `no node "${body.id}" on this site`);
      if (body.zone !== null && !isPart(found.value, body.zone) && !record.zones.some(({ id }) => id === body.zone)) {
        return refuse("invalid", "/zone", `no zone "${body.zone}" on this site`);
      }
      const touched = [body.zone, known?.zone ?? null].filter((zone) => zone !== null);
      await change(
        found.value,
        (atMs) => store.records.putNode(siteId, body, atMs),
        { nodes: put(record.nodes, body) },
        touched,
      );
      nodeTold(found.value, body);
      return good(body);
    },

    async removeNode(siteId: string, node: string): Promise<Answer<null>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const { record } = found.value;
      const known = record.nodes.find(({ id }) => id === node);
      if (known === undefined) return refuse("missing", "/node", `no node "${node}" on this site`);
      const touched = known.zone === null ? [] : [known.zone];
      await change(
        found.value,
        (atMs) => store.records.removeNode(siteId, node, atMs),
        { nodes: record.nodes.filter(({ id }) => id !== node) },
        touched,
      );
      return good(null);
    },
  };
}
