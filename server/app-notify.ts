// Telling people, in the running server: what it knows of sites, alarms and people, and its heartbeat.
import type { CallBody } from "#contract/call.ts";
import type { PartHealth } from "#contract/health.ts";
import type { LiveSite } from "./live/live-site.ts";
import type { AlarmTeller, ChannelWatch } from "./live/alarm-teller.ts";
import { createHeartbeat } from "./notify/heartbeat.ts";
import { notifyKeys } from "./notify/keys.ts";
import { createNotify } from "./notify/notify.ts";
import type { AlarmBook, SiteFacts } from "./notify/ports.ts";
import { createSirens } from "./notify/siren.ts";
import type { Settings } from "./settings.ts";
import type { EmbeddedStore } from "./store/store.ts";

export interface NotifyAppParts {
  readonly settings: Settings;
  readonly store: EmbeddedStore;
  readonly now: () => number;
  readonly sites: { all(): readonly LiveSite[] };
  readonly callOf: (site: string, zone: string) => CallBody | null;
  readonly book: AlarmBook;
  /** Parts without which nobody would be told in time. */
  readonly vital: Readonly<Record<string, () => PartHealth>>;
  readonly publish: (topic: string, body: string, retain: boolean) => void;
  readonly sirenGone: (site: string, siren: string) => void;
  readonly failed: (what: string, error: unknown) => void;
}

const MINUTE_MS = 60_000;

export function createNotifyApp(parts: NotifyAppParts) {
  const { settings, store, now, sites, book } = parts;
  const { smtpUrl, mailFrom } = settings;
  const ill = (): string | null => {
    const bad = Object.entries(parts.vital).flatMap(([name, look]) => {
      const { state, detail } = look();
      return state === "up" ? [] : [`${name}: ${detail ?? state}`];
    });
    return bad[0] ?? null;
  };
  const factsOf = (site: LiveSite): SiteFacts => ({
    id: site.id,
    name: site.record.site.name ?? site.id,
    timezone: site.record.site.timezone,
    zones: site.zones(now()).map(({ id, name }) => ({ id, name, call: parts.callOf(site.id, id) })),
  });
  const notify = createNotify({
    store: store.notify,
    keys: notifyKeys(settings.data),
    mail: smtpUrl === undefined || mailFrom === undefined ? null : { smtpUrl, from: mailFrom },
    publicUrl: settings.publicUrl ?? null,
    now,
    book,
    sites: () => sites.all().map(factsOf),
    person: (id) => store.people.person(id),
    serverWell: () => ill() === null,
    sirenGone: parts.sirenGone,
    failed: parts.failed,
  });
  const sirens = createSirens((site) => book.open(site), parts.publish, now);
  const heartbeat = createHeartbeat({
    url: settings.heartbeatUrl ?? null,
    method: settings.heartbeatMethod,
    everyMs: settings.heartbeatEveryMin * MINUTE_MS,
    steadyMs: () => performance.now(),
    ill,
  });
  let beating: Promise<void> = Promise.resolve();
  const teller: AlarmTeller = {
    tell(site, alarm, step) {
      notify.tell(site, alarm, step);
      sirens.tell(site);
    },
  };
  const channels: ChannelWatch = { failing: (site) => notify.failing(site) };
  const tellSirens = () => {
    for (const { id } of sites.all()) sirens.tell(id);
  };
  return {
    desk: notify,
    teller,
    channels,
    /** Called once the broker is there. */
    start: tellSirens,
    /** Every minute of the site. */
    minute: tellSirens,
    /** Every second. */
    tick(): void {
      notify.tick();
      beating = heartbeat.tick().catch((error: unknown) => parts.failed("the heartbeat", error));
    },
    health: { telling: () => notify.health(), heartbeat: () => heartbeat.health() },
    async close(): Promise<void> {
      await Promise.all([
        notify.close(),
        Promise.race([beating, new Promise((done) => setTimeout(done, 1000).unref())]),
      ]);
    },
  };
}
