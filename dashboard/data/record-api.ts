// What the record page asks of the server, and the addresses of its files. Loaded with that page.
import type { HandOverBody } from "#contract/hand-over.ts";
import type { PhotoBody } from "#contract/photo.ts";
import type { CoatRecordBody, RecordIndexBody } from "#contract/record.ts";
import type { Language } from "./prefs.ts";
import { api, ask, change } from "./api.ts";

const zoneAt = (site: string, zone: string) => `/sites/${encodeURIComponent(site)}/zones/${encodeURIComponent(zone)}`;
const siteAt = (site: string) => `/sites/${encodeURIComponent(site)}`;
/** A coat's record is reckoned anew from all its readings; a phone's picture goes over a thin line. */
const PATIENCE_MS = 60_000;
/** A line on which a picture would take longer takes none. */
const SLOWEST_BYTES_PER_S = 15_000;
const patient = () => ({ signal: AbortSignal.timeout(PATIENCE_MS) });

export interface Tongue {
  readonly language: Language;
  readonly units: "us" | "si";
}
const wish = ({ language, units }: Tongue) => `?language=${language}&units=${units}`;

export const recordApi = {
  coats: (site: string, zone: string) => ask<RecordIndexBody>(`${zoneAt(site, zone)}/coats`),
  coat: (site: string, zone: string, coat: number) =>
    ask<CoatRecordBody>(`${zoneAt(site, zone)}/coats/${coat}/record`, patient()),
  handOver: (site: string, zone: string) => ask<HandOverBody>(`${zoneAt(site, zone)}/hand-over`, patient()),
  /** The picture first, as it is; an entry of the journal points at it then. */
  sendPhoto: (site: string, picture: Blob, by: string | null) =>
    ask<PhotoBody>(`${siteAt(site)}/photos${by === null ? "" : `?by=${encodeURIComponent(by)}`}`, {
      signal: AbortSignal.timeout(PATIENCE_MS + (picture.size / SLOWEST_BYTES_PER_S) * 1000),
      method: "POST",
      headers: { ...change("POST").headers, "content-type": picture.type },
      body: picture,
    }),
  smallPhotoHref: (site: string, photo: string) => `${api.root}${siteAt(site)}/photos/${photo}/small`,
  photoHref: (site: string, photo: string) => `${api.root}${siteAt(site)}/photos/${photo}`,
  pdfHref: (site: string, zone: string, coat: number, tongue: Tongue) =>
    `${api.root}${zoneAt(site, zone)}/coats/${coat}/record.pdf${wish(tongue)}`,
  jsonHref: (site: string, zone: string, coat: number) => `${api.root}${zoneAt(site, zone)}/coats/${coat}/record`,
  csvHref: (site: string, zone: string, coat: number) => `${api.root}${zoneAt(site, zone)}/coats/${coat}/record.csv`,
  nightHref: (site: string, zone: string) => `${api.root}${zoneAt(site, zone)}/night-file`,
  handOverPdfHref: (site: string, zone: string, tongue: Tongue) =>
    `${api.root}${zoneAt(site, zone)}/hand-over.pdf${wish(tongue)}`,
  dayPdfHref: (site: string, day: string, tongue: Tongue) =>
    `${api.root}${siteAt(site)}/days/${day}/summary.pdf${wish(tongue)}`,
  jobHref: (site: string, tongue: Tongue) => `${api.root}${siteAt(site)}/export.zip${wish(tongue)}`,
};
