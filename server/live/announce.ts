// Alarms in plain words: a pour that must stop, dew near a film that cannot bear it, a node that has gone.
import type { CallBody } from "#contract/call.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { StreamBody } from "#contract/stream.ts";
import { topicOf } from "#contract/topics.ts";
import type { Sites } from "./sites.ts";

type AlarmBody = StreamBody<"alarm">;

export interface AnnounceParts {
  readonly sites: Sites;
  readonly now: () => number;
  readonly stream: { publish(site: string, event: "alarm", key: string, body: AlarmBody): void };
  readonly mqtt: { publish(topic: string, body: string, retain: boolean): void };
  readonly count: (name: string) => void;
}

export interface Announcer {
  call(zone: { readonly site: string; readonly zone: string }, before: CallBody | null, after: CallBody): void;
  presence(site: string, node: string, before: string, after: string): void;
}

const DEW_RULES: readonly string[] = ["dew-margin", "condensing"];

function dewStop(call: CallBody | null): CallBody["rules"][number] | null {
  if (call?.film?.dewSensitive !== true) return null;
  return call.rules.find(({ rule, outcome }) => DEW_RULES.includes(rule) && outcome === "stop") ?? null;
}

function isPouringOn(call: CallBody | null): boolean {
  return call !== null && call.pouring && call.call === "pour";
}

export function createAnnouncer({ sites, now, stream, mqtt, count }: AnnounceParts): Announcer {
  let sequence = 0;
  const announce = (site: string, zone: string | null, kind: string, text: string): void => {
    sequence += 1;
    const atMs = now();
    const body: AlarmBody = { id: `${kind}-${atMs}-${sequence}`, zone, at: isoFromMs(atMs), kind, text };
    count("alarms");
    stream.publish(site, "alarm", body.id, body);
    mqtt.publish(topicOf({ kind: "alarm", site }), JSON.stringify({ site, ...body }), false);
  };
  return {
    call({ site, zone }, before, after) {
      const name = sites.get(site)?.zone(zone, now())?.name ?? zone;
      if (isPouringOn(before) && after.pouring && after.call !== "pour") {
        announce(
          site,
          zone,
          "stop-pour",
          `${name}: stop at the next joint, the call is ${after.call} (${after.limiting ?? "no single rule"}).`,
        );
      }
      const dew = dewStop(after);
      if (dew !== null && dewStop(before) === null) {
        const margin = after.conditions.marginK === null ? "unknown" : `${after.conditions.marginK.toFixed(1)} K`;
        announce(
          site,
          zone,
          "film-dew",
          `${name}: the fresh film cannot bear dew, and the margin is ${margin} (${dew.rule}).`,
        );
      }
    },
    presence(site, node, before, after) {
      if (before !== "online" || after !== "offline") return;
      const of = sites.get(site)?.record.nodes.find(({ id }) => id === node)?.zone ?? null;
      announce(site, of, "node-offline", `Node ${node} has gone offline.`);
    },
  };
}
