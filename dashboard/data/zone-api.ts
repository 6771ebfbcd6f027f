// What the page of a zone asks of the server. Loaded with that page.
import type { SeriesBody, ZonePageBody } from "#contract/board.ts";
import type { HeatPlanBody, HeatQuestionBody } from "#contract/heat-plan.ts";
import { ask, change } from "./api.ts";

const at = (site: string, zone: string) => `/sites/${encodeURIComponent(site)}/zones/${encodeURIComponent(zone)}`;

export const zoneApi = {
  page: (site: string, zone: string) => ask<ZonePageBody>(at(site, zone)),
  series: (site: string, zone: string, from: string, to: string, points: number) =>
    ask<SeriesBody>(
      `${at(site, zone)}/series?from=${encodeURIComponent(from)}&to=${encodeURIComponent(to)}&points=${points}`,
    ),
  heatPlan: (site: string, zone: string, question: HeatQuestionBody) =>
    ask<HeatPlanBody>(`${at(site, zone)}/heat-plan`, change("POST", question)),
};
