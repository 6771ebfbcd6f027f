// The desk: everything that routes may ask of the running server, from its parts.
import type { BoardBody, SpotCheckBody, ZonePageBody } from "#contract/board.ts";
import { bodyFromCall, type CallBody } from "#contract/call.ts";
import type { OutlookBody } from "#contract/outlook.ts";
import { sheetFromBody } from "#contract/sheet.ts";
import { lineageOf } from "#core/zone/zones.ts";
import { type Answer, good, refuse } from "./answer.ts";
import { createChartDesk } from "./desk-charts.ts";
import { createHeatDesk } from "./desk-heat.ts";
import { createKnockDesk } from "./desk-knocks.ts";
import { createNodeLifeDesk } from "./desk-node-life.ts";
import { createRecipeDesk } from "./desk-recipes.ts";
import { createSensorDesk } from "./desk-sensors.ts";
import { createFeedDesk } from "./desk-feed.ts";
import { createJournalDesk } from "./desk-journal.ts";
import { createPhotoDesk } from "./desk-photos.ts";
import { createPlanDesk } from "./desk-plan.ts";
import { createRecordDesk } from "./desk-records.ts";
import { createSheetDesk } from "./desk-sheets.ts";
import { createHealthDesk, type HealthParts } from "./health.ts";
import { createNightDesk } from "./judge-night.ts";
import { createTakeoffDesk } from "./desk-takeoff.ts";
import { createNightExport } from "./night-export.ts";
import { createNightImport } from "./night-import.ts";
import { type Office, siteOf, zoneOf } from "./office.ts";
import { createSiteFileDesk } from "./site-file.ts";

export function createDesk(office: Office, healthParts: HealthParts) {
  const { board, judge, moments, store } = office;
  const { zoneJournal, ...journalDesk } = createJournalDesk(office);
  const recordDesk = createRecordDesk(office);
  const { putNode } = recordDesk;
  return {
    ...createHealthDesk(healthParts),
    ...recordDesk,
    ...createKnockDesk(office, putNode),
    ...createNodeLifeDesk(office, { putNode, addEntry: journalDesk.addEntry }),
    ...createRecipeDesk(office),
    ...createSensorDesk(office),
    ...createChartDesk(office),
    ...createFeedDesk(office),
    ...createHeatDesk(office),
    ...createTakeoffDesk(office),
    ...createPhotoDesk(office),
    ...createSheetDesk(office),
    ...createNightExport(office),
    ...createNightImport(office),
    ...createNightDesk(office),
    ...createPlanDesk(office),
    ...createSiteFileDesk(office),
    ...journalDesk,

    async judgedOnce(siteId: string): Promise<void> {
      const site = office.sites.get(siteId);
      if (site === null) return;
      const open = site.zones(moments.now()).filter(({ id }) => board.memory(siteId, id).call === null);
      if (open.length > 0)
        await office.judgeNow(
          siteId,
          open.map(({ id }) => id),
        );
    },

    zonesOf(siteId: string): number {
      return office.sites.get(siteId)?.zones(moments.now()).length ?? 0;
    },

    board(siteId: string, withPast?: number): Answer<BoardBody> {
      const site = siteOf(office, siteId);
      return site.ok ? good(board.siteBody(site.value, withPast)) : site;
    },

    zonePage(siteId: string, zoneId: string): Answer<ZonePageBody> {
      const found = zoneOf(office, siteId, zoneId);
      if (!found.ok) return found;
      const { site, zone } = found.value;
      const journal = zoneJournal(
        site,
        lineageOf(site.log, zoneId, moments.now()).map(({ id }) => id),
      );
      const named = new Set([
        ...zone.system,
        ...journal.flatMap((entry) => (entry.did === "coat-added" ? [entry.sheet] : [])),
      ]);
      return good({
        ...board.zoneBody(site, zone),
        // Fillers too: whoever fills a crack picks one.
        sheets: site.record.sheets.filter(({ id, kind }) => named.has(id) || kind === "filler"),
        journal,
      });
    },

    outlook(siteId: string, zoneId: string): Answer<OutlookBody | null> {
      const found = zoneOf(office, siteId, zoneId);
      return found.ok ? good(board.memory(siteId, zoneId).outlook) : found;
    },

    spotCheck({ sheet: id, slabC, airC, rhPct, base = "porous" }: SpotCheckBody): Answer<CallBody> {
      const sheet = store.records.sheets().find(({ body }) => body.id === id);
      if (sheet === undefined) return refuse("invalid", "/sheet", `no sheet "${id}"`);
      // Nobody says where, so at sea level: of all limits only that of water in the air knows of the height, and little.
      return good(
        bodyFromCall(judge.spotCheck(sheetFromBody(sheet.body), { slabC, airC, rhPct }, base, 0, moments.now())),
      );
    },
  };
}
