// What has landed enters the live log: readings, presence, refusals; and who must hear of it.
import type { NodeStateBody } from "#contract/board.ts";
import type { Board } from "./board.ts";
import type { LiveSite } from "./live-site.ts";
import type { HeardReading, Presence } from "./ports.ts";
import type { Sites } from "./sites.ts";

export interface LandedParcel {
  readonly site: string;
  readonly node: string;
  readonly heardMs: number;
  readonly stored: readonly HeardReading[];
  readonly same: number;
  readonly presence: Presence | null;
  readonly refused: readonly { readonly site: string; readonly node: string; readonly reason: string }[];
}

export interface KeepParts {
  readonly sites: Sites;
  readonly board: Board;
  readonly wantHindsight: (site: string, zone: string) => void;
  readonly stream: { publish(site: string, event: "node", key: string, body: NodeStateBody): void };
}

/** A reading heard later than this after it was taken changes what is said of the past. */
const LATE_MS = 15 * 60_000;

export interface Keeper {
  /** Gives the zones that must be judged. */
  keep(landed: LandedParcel): readonly { readonly site: string; readonly zone: string }[];
  /** Tells screens of nodes that were heard since the last time. */
  tellNodes(): void;
}

export function createKeeper({ sites, board, wantHindsight, stream }: KeepParts): Keeper {
  const touched = new Map<string, { readonly site: string; readonly node: string }>();

  const doubt = (site: LiveSite, zones: readonly string[], { stored, heardMs }: LandedParcel): void => {
    let fromMs = Number.POSITIVE_INFINITY;
    for (const { atMs } of stored) if (heardMs - atMs > LATE_MS) fromMs = Math.min(fromMs, atMs);
    if (fromMs === Number.POSITIVE_INFINITY) return;
    for (const zone of zones) {
      board.doubtFrom(site.id, zone, fromMs);
      board.lateFrom(site.id, zone, fromMs);
      wantHindsight(site.id, zone);
    }
  };

  const zonesOf = (site: LiveSite, { stored, heardMs }: LandedParcel): readonly string[] => {
    const of = stored[0]?.node ?? "";
    // A buffer may reach back to when its device lay in another zone; mostly it does not.
    if (stored.every(({ node }) => node === of)) return site.zonesOf(of, heardMs);
    const nodes = new Set(stored.map(({ node }) => node));
    return [...new Set([...nodes].flatMap((one) => site.zonesOf(one, heardMs)))];
  };

  return {
    keep(landed) {
      const { site: siteId, node, stored, presence, refused } = landed;
      const site = sites.get(siteId);
      if (site === null) return [];
      site.keep(stored);
      for (const { reason } of refused) site.refuse(node, reason, 1);
      if (presence !== null) site.presence.set(node, presence);
      touched.set(`${siteId}/${node}`, { site: siteId, node });
      if (stored.length === 0) return [];
      const zones = zonesOf(site, landed);
      doubt(site, zones, landed);
      return zones.map((zone) => ({ site: siteId, zone }));
    },
    tellNodes() {
      for (const { site: siteId, node } of touched.values()) {
        const site = sites.get(siteId);
        const record = site?.record.nodes.find(({ id }) => id === node) ?? null;
        if (site !== null && record !== null) stream.publish(siteId, "node", node, board.nodeState(site, record));
      }
      touched.clear();
    },
  };
}
