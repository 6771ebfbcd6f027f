// What setting a site up asks of the server. Loaded with those pages.
import type { JudgedNightBody } from "#contract/judged-night.ts";
import type { PhotoBody } from "#contract/photo.ts";
import type { PlanBody } from "#contract/plan.ts";
import type { SiteFileTaken, SiteFileWish } from "#contract/site-file.ts";
import type { NodeBody, SiteBody, ZoneBody } from "#contract/zone.ts";
import { api, ask, change } from "./api.ts";
import { shrunk } from "./shrink.ts";

const at = (site: string) => `/sites/${encodeURIComponent(site)}`;
const zoneAt = (site: string, zone: string) => `${at(site)}/zones/${encodeURIComponent(zone)}`;
/** Large files go over thin lines, and a night takes its time to be judged. */
const PATIENCE_MS = 120_000;
const patient = () => ({ signal: AbortSignal.timeout(PATIENCE_MS) });
/** A file as it was read, so that every digit of it arrives. */
const text = (body: string): RequestInit => ({ ...change("POST", {}), ...patient(), body });

export interface Taken {
  readonly readings: number;
  readonly entries: number;
}

export const setUpApi = {
  addSite: (body: SiteBody) => ask<SiteBody>("/sites", change("POST", body)),
  patchSite: (site: string, body: Partial<SiteBody>) => ask<SiteBody>(at(site), change("PATCH", body)),
  addZone: (site: string, body: ZoneBody) => ask<ZoneBody>(`${at(site)}/zones`, change("POST", body)),
  patchZone: (site: string, zone: string, body: Partial<ZoneBody>) =>
    ask<ZoneBody>(zoneAt(site, zone), change("PATCH", body)),
  removeZone: (site: string, zone: string) => ask<null>(zoneAt(site, zone), change("DELETE")),
  patchNode: (site: string, node: string, body: Partial<NodeBody>) =>
    ask<NodeBody>(`${at(site)}/nodes/${encodeURIComponent(node)}`, change("PATCH", body)),
  plan: (site: string) => ask<PlanBody | null>(`${at(site)}/plan`),
  putPlan: (site: string, body: PlanBody) =>
    ask<PlanBody>(`${at(site)}/plan`, { ...change("POST", body), method: "PUT" }),
  async sendDrawing(site: string, file: Blob, by: string | null): Promise<PhotoBody> {
    const picture = await shrunk(file);
    return ask<PhotoBody>(`${at(site)}/photos${by === null ? "" : `?by=${encodeURIComponent(by)}`}`, {
      ...patient(),
      method: "POST",
      headers: { ...change("POST").headers, "content-type": picture.type },
      body: picture,
    });
  },
  photoHref: (site: string, photo: string) => `${api.root}${at(site)}/photos/${photo}`,
  siteFileHref: (site: string) => `${api.root}${at(site)}/site-file`,
  nightFileHref: (site: string, zone: string) => `${api.root}${zoneAt(site, zone)}/night-file`,
  takeSiteFile(file: string, wish: SiteFileWish) {
    const query = new URLSearchParams(Object.entries(wish).filter(([, value]) => value !== undefined)).toString();
    return ask<SiteFileTaken>(`/site-files${query === "" ? "" : `?${query}`}`, text(file));
  },
  inventedNight: () => ask<{ readonly site: SiteBody }>("/invented-night"),
  takeNightFile: (site: string, file: string) => ask<Taken>(`${at(site)}/night-files`, text(file)),
  judgeNight: (file: string) => ask<JudgedNightBody>("/night-files/judge", text(file)),
};
