// The set-up part of a desk kept in memory: one plan, one site file, and nights that are read but judged by nobody.
import { readNightFile } from "#contract/night-file.ts";
import type { PlanBody } from "#contract/plan.ts";
import { readSiteFile, type SiteFileBody } from "#contract/site-file.ts";
import type { BoardBody } from "#contract/board.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { Answer, Refusal } from "../../server/http/answer.ts";
import type { SetUpDesk } from "../../server/http/set-up-port.ts";
import { inventedNight } from "../../server/live/invented-night.ts";
import { SAMPLE_AT_MS } from "./sample-site.ts";

const good = <T>(value: T): Answer<T> => ({ ok: true, value });

export function fakeSetUpDesk(
  board: BoardBody,
  sheets: readonly SheetBody[],
  missing: (site: string) => Refusal | null,
): SetUpDesk {
  let plan: PlanBody | null = null;
  const file = (): SiteFileBody => ({
    ...{ siteFile: 1, madeAt: board.at, site: board.site, sheets: [...sheets], plan, picture: null },
    zones: board.zones.map(({ zone }) => zone),
    nodes: board.nodes.map(({ node }) => node),
    ...{ recipes: [], feed: null },
  });
  return {
    plan: (site) => missing(site) ?? good(plan),
    putPlan: (site, body) => missing(site) ?? good((plan = body)),
    siteFile: (site) => missing(site) ?? good(file()),
    async takeSiteFile(given, { as }) {
      const read = readSiteFile(given);
      if (!read.ok) return { ...read, refusal: "invalid" };
      const { site, zones, nodes } = read.value;
      const id = as ?? site.id;
      if (missing(id) === null)
        return {
          ok: false,
          refusal: "conflict",
          faults: [{ field: "/site/id", reason: `a site "${id}" is here already` }],
        };
      return good({ site: { ...site, id }, zones: zones.length, nodes: nodes.length, sheets: 0 });
    },
    inventedNight: () => inventedNight(SAMPLE_AT_MS),
    async judgeNight(given) {
      const read = readNightFile(given);
      if (!read.ok) return { ...read, refusal: "invalid" };
      const { id, log, ask } = read.value;
      return good({ id, timezone: log.timezone, names: {}, calls: [], asked: ask.length });
    },
  };
}
