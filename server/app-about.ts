// What each site says of itself once a minute, for whoever looks at many: that its server lives, its zones, its alarms.
import { type AboutBody, MOST_ALARMS_ABOUT } from "#contract/about.ts";
import type { AlarmBody } from "#contract/alarm.ts";
import type { CallBody } from "#contract/call.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { topicOf } from "#contract/topics.ts";
import type { Sites } from "./live/sites.ts";

export interface AboutParts {
  readonly sites: Sites;
  readonly nowMs: () => number;
  /** Seconds of the site's time between two words. */
  readonly everyS: number;
  readonly publicUrl: string | null;
  readonly callOf: (site: string, zone: string) => CallBody | null;
  readonly alarmsOf: (site: string) => readonly AlarmBody[];
  readonly publish: (topic: string, body: string, retain: boolean) => void;
}

export function createAbout({ sites, nowMs, everyS, publicUrl, callOf, alarmsOf, publish }: AboutParts) {
  let known = "";
  const ids = () =>
    sites
      .all()
      .map(({ id }) => id)
      .join(" ");
  const aboutOf = (site: ReturnType<Sites["all"]>[number]): AboutBody => {
    const alarms = alarmsOf(site.id);
    return {
      site: site.id,
      name: site.record.site.name ?? site.id,
      timezone: site.record.site.timezone,
      at: isoFromMs(nowMs()),
      everyS,
      publicUrl,
      zones: site.zones(nowMs()).map(({ id, name }) => {
        const call = callOf(site.id, id);
        return { id, name, call: call?.call ?? null, callAt: call?.at ?? null };
      }),
      alarms: alarms.slice(0, MOST_ALARMS_ABOUT).map((alarm) => ({ ...alarm, history: [] })),
      alarmCount: alarms.length,
    };
  };
  const tell = () => {
    for (const site of sites.all())
      publish(topicOf({ kind: "about", site: site.id }), JSON.stringify(aboutOf(site)), true);
    known = ids();
  };
  return {
    tell,
    /** Tells at once of a site that was added; true if there was one. */
    look(): boolean {
      if (ids() === known) return false;
      tell();
      return true;
    },
  };
}
