// What the parts of the desk share: the sites, the store, and what must happen after a change.
import type { EntryBody } from "#contract/journal.ts";
import type { NodeStateBody } from "#contract/board.ts";
import type { ZoneNow } from "#core/zone/zones.ts";
import { lineageOf } from "#core/zone/zones.ts";
import { type Answer, good, refuse } from "./answer.ts";
import type { Board } from "./board.ts";
import type { LiveSite } from "./live-site.ts";
import type { Moments } from "./moments.ts";
import type { BrokerPort } from "./ports-nodes.ts";
import type { Reach } from "./ports-reach.ts";
import type { PhotoParts } from "./photo-parts.ts";
import type { Clock, FeedPort, Judge, LiveStore } from "./ports.ts";
import type { Sites } from "./sites.ts";

export interface Office {
  readonly sites: Sites;
  readonly store: LiveStore;
  readonly board: Board;
  readonly judge: Judge;
  readonly clock: Clock;
  readonly moments: Moments;
  /** Judges these zones with what is known now, and resolves after that. */
  readonly judgeNow: (site: string, zones: readonly string[]) => Promise<void>;
  /** Calls with hindsight are made again where the past has changed. */
  readonly wantHindsight: (site: string, zone: string) => void;
  /** A zone is no more: its call must not stand at the broker for ever. */
  readonly clearCall: (site: string, zone: string) => void;
  readonly feeds: FeedPort;
  /** Readings of any age. */
  readonly reach: Reach;
  readonly broker: BrokerPort;
  /** A message that was held goes through the flow; resolves when it is on the disk. */
  readonly pass: (topic: string, payload: Uint8Array) => Promise<void>;
  readonly photos: PhotoParts;
  readonly stream: {
    publish(site: string, event: "journal", key: string, body: EntryBody): void;
    publish(site: string, event: "node", key: string, body: NodeStateBody): void;
  };
}

export function siteOf({ sites }: Office, site: string): Answer<LiveSite> {
  const found = sites.get(site);
  return found === null ? refuse("missing", "/site", `no site "${site}"`) : good(found);
}

export interface Found {
  readonly site: LiveSite;
  readonly zone: ZoneNow;
}

export function zoneOf(office: Office, site: string, zone: string): Answer<Found> {
  const found = siteOf(office, site);
  if (!found.ok) return found;
  const now = found.value.zone(zone, office.moments.now());
  return now === null
    ? refuse("missing", "/zone", `no zone "${zone}" on this site`)
    : good({ site: found.value, zone: now });
}

/** Zones that hear of something said of `zone` (null: of the whole site): itself, and the parts it was split into. */
export function touchedZones(site: LiveSite, zone: string | null, nowMs: number): string[] {
  const all = site.zones(nowMs).map(({ id }) => id);
  if (zone === null) return all;
  return all.filter((id) => lineageOf(site.log, id, nowMs).some((one) => one.id === zone));
}
