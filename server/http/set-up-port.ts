// The part of the desk that sets a site up: its plan, sites as files, and nights that are judged and not kept.
import type { JudgedNightBody } from "#contract/judged-night.ts";
import type { NightFileBody } from "#contract/night-file.ts";
import type { PlanBody } from "#contract/plan.ts";
import type { SiteFileBody, SiteFileTaken, SiteFileWish } from "#contract/site-file.ts";
import type { Answer } from "./answer.ts";

export interface SetUpDesk {
  plan(site: string): Answer<PlanBody | null>;
  putPlan(site: string, body: PlanBody): Answer<PlanBody>;
  siteFile(site: string): Answer<SiteFileBody>;
  /** Conflict when the site, a sheet that differs or a recipe's topic is here already. */
  takeSiteFile(file: unknown, wish: SiteFileWish, by: string | null): Promise<Answer<SiteFileTaken>>;
  inventedNight(): NightFileBody;
  judgeNight(file: unknown): Promise<Answer<JudgedNightBody>>;
}
