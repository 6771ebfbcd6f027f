// What stays of an answer for somebody who is bound to sites or to a zone.
import type { Who } from "#contract/access.ts";
import type { HealthBody } from "#contract/health.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { SiteBody } from "#contract/zone.ts";
import type { Desk } from "./desk.ts";

export function sitesWithin(desk: Desk, who: Who | null): SiteBody[] {
  if (who === null) return [];
  return desk.sites().filter(({ id }) => who.sites === null || who.sites.includes(id));
}

/** Whoever plans sees every sheet; others who are bound see those that their zones are coated with. */
export function sheetsWithin(desk: Desk, who: Who | null): SheetBody[] {
  if (who === null) return [];
  if (who.sites === null || who.role === "lead") return [...desk.sheets()];
  const used = new Map<string, SheetBody>();
  for (const { id } of sitesWithin(desk, who)) {
    const board = desk.board(id);
    for (const { zone } of board.ok ? board.value.zones : []) {
      if (who.zone !== null && who.zone !== zone.id) continue;
      const page = desk.zonePage(id, zone.id);
      for (const sheet of page.ok ? page.value.sheets : []) used.set(sheet.id, sheet);
    }
  }
  return [...used.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** A stranger, and whoever is bound to sites, learns whether the server works, and nothing of what it says of others. */
export function healthFor(health: HealthBody, who: Who | null): HealthBody {
  if (who !== null && who.sites === null && who.role !== "client") return health;
  const parts = Object.entries(health.parts).map(([name, { state }]) => [name, { state, detail: null }] as const);
  return { ...health, lastMessageAt: null, parts: Object.fromEntries(parts), counters: {} };
}
